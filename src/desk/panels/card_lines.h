// What the open question, the marking column and the whole card share: chips, steps of the play, title, note.
#pragma once

#include "desk/pages.h"
#include "desk/panels/pieces.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// Shot, clock, how much of it is open.
void draw_shot_title(const Look& look, const LogState& log, const ShotEntry& entry);
/// The play as steps: each moment a chip with its kind, the one in hand filled.
void draw_moments(const Panel& panel, const LogState& log, const ShotEntry& entry, float right);
/// The line's label; what follows is drawn behind it.
void draw_line_label(const Look& look, std::string_view label, bool focused, float label_width);
/// The choices of a line as chips; its numbers are lit when the line is in focus.
void draw_choices_of(const Panel& panel, const LogState& log, const ShotEntry& entry, CardField field,
                     float right);
void draw_note(const Panel& panel, const ShotEntry& entry, float label_width, CardEntry& typed);

} // namespace ropeline
