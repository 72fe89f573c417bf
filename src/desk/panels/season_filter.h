// The strip over the Season side: which shots, beside what, and what is made of them.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/season_part.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// The height it needs at this width.
float filter_height(const Look& look, float width);
void draw_season_filter(const Panel& panel, const LogState& log, SeasonPart& part);

/// A choice of one of these, or of all.
/// In   key: the one that is chosen; empty: `all`.
/// Out  the one that was chosen now, empty for all; nothing when nothing was.
std::optional<std::string> chosen_of(const Look& look, const char* id, float units, const char* all,
                                     const std::vector<Choice>& choices, const std::string& key);

/// A day as it is typed; what is no day yet asks for nothing and is written in red.
void draw_day(const Look& look, const char* id, const char* hint, float units, std::string& typed,
              std::string& day);

} // namespace ropeline
