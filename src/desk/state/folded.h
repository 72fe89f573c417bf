// Text without its capitals, so that what is typed finds what is written.
#pragma once

#include <string>
#include <string_view>

namespace ropeline {

/// Latin, Greek and Cyrillic capitals of UTF-8 text as small letters; everything else, broken UTF-8 too, as
/// it is.
std::string folded(std::string_view text);

} // namespace ropeline
