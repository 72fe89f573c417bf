// The ice and its paint under every plan.
#pragma once

#include "desk/panels/pieces.h"
#include "rink/rule_book.h"

#include <vector>

namespace ropeline {

void draw_line(ImDrawList* draw, const PlanView& plan, const std::vector<IcePoint>& line, ImU32 colour,
               float width);
void draw_ice(const Look& look, ImDrawList* draw, const PlanView& plan, const RuleBook& rules);

} // namespace ropeline
