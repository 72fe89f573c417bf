// A film's marks as few bytes: a two-hour film has a thousand of them. Times in steps of a twentieth of a second, each
// as its way from the one before.
#pragma once

#include "chances/marks.h"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace ropeline {

std::vector<std::byte> packed(const FilmMarks& marks);
/// Nothing for bytes that are not such marks, or of another edition of what finds them: they are to be found anew.
std::optional<FilmMarks> unpacked(std::span<const std::byte> bytes);

} // namespace ropeline
