// The desk's own chooser of files.
#pragma once

#include "desk/chooser_desk.h"
#include "desk/panels/pieces.h"

namespace ropeline {

void draw_chooser(const Panel& panel, ChooserDesk& desk);

} // namespace ropeline
