// Reel, still and handout: what of, where to, how far it is.
#pragma once

#include "desk/export_part.h"
#include "desk/log_part.h"
#include "desk/panels/pieces.h"

namespace ropeline {

void draw_exports_page(const Panel& panel, const LogState& log, ExportPart& part);
/// The button that opens the page, for any side of the desk; with what is under way beside it.
void draw_export_button(const Panel& panel, const ExportPart& part);

} // namespace ropeline
