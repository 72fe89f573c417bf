// What stands in the cells of the shot list, and the choices that a click on one opens.
#pragma once

#include "desk/list_part.h"
#include "desk/panels/pieces.h"
#include "desk/state/log_state.h"
#include "desk/state/shot_list.h"

#include <array>

namespace ropeline {

/// Room each column's widest content takes; names and notes up to `names_px`.
std::array<float, shot_columns> list_widths(const Look& look, const LogState& log, float names_px);

struct ListCell {
    std::size_t shot = 0; ///< among LogState::shots
    ShotColumn column{};
    bool short_verdict = false; ///< only its mark and letter
    bool marks_alone = false;   ///< an outcome is its mark without words
};
/// Draws the cell where the cursor is. One that can be changed opens its choices when clicked.
void draw_list_cell(const Panel& panel, const LogState& log, ListPart& list, const ListCell& cell);

/// The choices of the cell that is open, under it; the number keys choose too.
void draw_open_choices(const Panel& panel, const LogState& log, ListPart& list);

} // namespace ropeline
