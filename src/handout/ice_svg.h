// The plan and the puck's eye as SVG inside the handout's page. Colours come from the page's style, by class.
#pragma once

#include "reel/shown_play.h"

#include <string>

namespace ropeline {

/// The part of the ice that a play lies in, metres.
struct PlanBox {
    double left_m = -4.0, right_m = 4.0, near_m = -1.6, far_m = 6.0;
};
PlanBox plan_box(const ShownMoment& shown);

/// Rink, puck and receivers; then, in a group of class "answer", what the answer adds: ropes, advised stretch, passes, goalie.
/// One unit is a centimetre, y grows towards the net, so ice (x, y) lies at (100 x, -100 y).
std::string plan_svg(const ShownMoment& shown, const PlanBox& box, const std::string& title);

/// Empty where the puck sees no net.
std::string puck_eye_svg(const ShownMoment& shown);

} // namespace ropeline
