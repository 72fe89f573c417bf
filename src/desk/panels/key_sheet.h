// Every key on one sheet.
#pragma once

#include "desk/look.h"

namespace ropeline {

void draw_key_sheet(const Look& look, float width, float height);

} // namespace ropeline
