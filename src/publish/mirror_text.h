// Inside src/publish: schema/postgresql.sql as text.
#pragma once

#include <string_view>

namespace ropeline {

std::string_view mirror_text();

} // namespace ropeline
