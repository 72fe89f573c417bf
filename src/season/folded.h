// Text without its capitals, so that what is typed finds what is written.
#pragma once

#include <string>
#include <string_view>

namespace ropeline {

/// Folded as Unicode folds cases (Default Case Folding), letters and their accents composed into one; broken UTF-8 as
/// it is.
std::string folded(std::string_view text);

} // namespace ropeline
