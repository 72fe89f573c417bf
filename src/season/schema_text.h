// The SQL of every schema version, oldest first, as written in schema/NNN.sql.
#pragma once

#include <span>
#include <string_view>

namespace ropeline {

std::span<const std::string_view> schema_versions();

} // namespace ropeline
