// What the handout's page brings along, put into the program at build time.
#pragma once

#include <string_view>

namespace ropeline {

std::string_view page_style();
std::string_view page_script();

} // namespace ropeline
