#include "desk/panels/plan_ice.h"

#include "rink/crease.h"
#include "rink/paint.h"

#include <algorithm>

namespace ropeline {

void draw_line(ImDrawList* draw, const PlanView& plan, const std::vector<IcePoint>& line, ImU32 colour,
               float width) {
    std::vector<ImVec2> screen;
    screen.reserve(line.size());
    for (const IcePoint at : line)
        screen.push_back(vec(plan.to_screen(at)));
    draw->AddPolyline(screen.data(), static_cast<int>(screen.size()), colour, ImDrawFlags_None, width);
}

void draw_ice(const Look& look, ImDrawList* draw, const PlanView& plan, const RuleBook& rules) {
    const Palette& c = look.colours;
    const auto outline = crease_outline(rules);
    std::vector<ImVec2> paint;
    for (const IcePoint at : outline)
        paint.push_back(vec(plan.to_screen(at)));
    draw->AddConvexPolyFilled(paint.data(), static_cast<int>(paint.size()), faded(c.blue_paint, 0.28F));
    for (const PaintLine& line : rink_paint(rules)) {
        const bool blue = line.kind == PaintKind::blue_line;
        const bool plain = line.kind == PaintKind::boards || line.kind == PaintKind::net;
        const float width = std::max(look.pen(1.0F), static_cast<float>(line.width_m * plan.scale()));
        draw_line(draw, plan, line.points,
                  faded(blue    ? c.blue_paint
                        : plain ? c.boards
                                : c.red_paint,
                        0.75F),
                  width);
    }
}

} // namespace ropeline
