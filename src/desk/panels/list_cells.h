// What stands in the cells of the shot list, and the choices that a click on one opens.
#pragma once

#include "desk/panels/ui.h"
#include "desk/state/shot_list.h"

#include <array>

namespace ropeline {

/// Room each column's widest content takes; names and notes up to `names_px`.
std::array<float, shot_columns> list_widths(const App& app, float names_px);

/// Draws the cell where the cursor is. One that can be changed opens its choices when clicked.
void draw_list_cell(App& app, std::size_t index, ShotColumn column, bool short_verdict);

/// The choices of the cell that is open, under it; the number keys choose too.
void draw_open_choices(App& app);

} // namespace ropeline
