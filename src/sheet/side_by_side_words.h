// What stands between two lots of shots that are laid side by side.
#pragma once

#include "tally/side_by_side.h"

#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

/// Goals within like plays, then the shares of right depths and right reads: each with its counts, its difference with 95 %
/// and no more than that says; "not enough shots to say" is an answer.
/// In   what either lot is called: "Ilse Tamm", "the first half".
std::vector<std::string> side_by_side_sentences(const SideBySide& compared, std::string_view first,
                                                std::string_view second);

} // namespace ropeline
