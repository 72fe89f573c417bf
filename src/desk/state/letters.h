// Which letters a season's own words need beyond those that every desk has: names and notes are in any script.
#pragma once

#include "desk/state/log_state.h"

#include <set>
#include <string_view>

namespace ropeline {

/// Latin, Greek and Cyrillic are always there.
using Letters = std::set<char32_t>;
void note_letters(Letters& letters, std::string_view text);
void note_letters(Letters& letters, const LogState& log);

} // namespace ropeline
