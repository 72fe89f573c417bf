// A film found again after it was moved or renamed.
#pragma once

#include <string>

namespace ropeline {

/// Size and a hash of head, middle and tail, hex. Throws FilmError when the file cannot be read.
std::string film_fingerprint(const std::string& path);

} // namespace ropeline
