// Inside src/publish: what a server said, as one line.
#pragma once

#include <string>
#include <string_view>

namespace ropeline {

std::string server_words(std::string_view text);

} // namespace ropeline
