// The rink over its ice, the lines of the moment in hand, its marks.
#include "desk/panels/film_overlay.h"

#include "rink/curves.h"
#include "rink/landmarks.h"
#include "rink/paint.h"
#include "rink/units.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace ropeline {

std::vector<Handle> handles_of(const LogState& log, std::int64_t frame) {
    std::vector<Handle> handles;
    if (const FitDraft* fit = log.selection.fit()) {
        if (fit->frame != frame) return handles;
        for (std::size_t index = 0; index < fit->clicks.size(); ++index) {
            const StoredLandmark& click = fit->clicks[index];
            handles.push_back({{}, index, MarkKind::landmark, click.at, !click.point});
        }
        return handles;
    }
    const Moment* moment = moment_in_hand(log);
    if (!moment || moment->frame != frame || moment->film_id != open_film(log)) return handles;
    for (std::size_t index = 0; index < moment->marks.size(); ++index) {
        const Mark& mark = moment->marks[index];
        if (mark.at) handles.push_back({index, {}, mark.kind, *mark.at});
    }
    return handles;
}

namespace {

ImU32 paint_colour(PaintKind kind, const Palette& c) {
    switch (kind) {
    case PaintKind::goal_line:
    case PaintKind::crease:
    case PaintKind::red_line:
    case PaintKind::circle:
    case PaintKind::spot:
    case PaintKind::hash:
    case PaintKind::l_mark:
    case PaintKind::trapezoid:
        return c.red_paint;
    case PaintKind::blue_line:
        return c.blue_paint;
    case PaintKind::boards:
    case PaintKind::net:
        return c.boards;
    }
    return c.boards;
}

void draw_ice_line(const Canvas& on, const RinkFit& fit, const std::vector<IcePoint>& line, ImU32 colour,
                   float width) {
    std::vector<ImVec2> screen;
    for (const auto& piece : in_picture(fit, line, on.view.shown)) {
        screen.clear();
        for (const ImagePoint at : piece)
            screen.push_back(vec(on.view.to_screen(at)));
        on.draw->AddPolyline(screen.data(), static_cast<int>(screen.size()), colour, ImDrawFlags_None, width);
    }
}

void draw_ice_dashes(const Canvas& on, const RinkFit& fit, const std::vector<IcePoint>& line, ImU32 colour,
                     float width) {
    constexpr double dash_m = 0.45;
    const double whole = distance(line.front(), line.back());
    const IcePoint along = (line.back() - line.front()) * (whole > 0.0 ? 1.0 / whole : 0.0);
    for (double from = 0.0; from < whole; from += 1.7 * dash_m) {
        draw_ice_line(on, fit,
                      {line.front() + along * from, line.front() + along * std::min(whole, from + dash_m)},
                      colour, width);
    }
}

void draw_rink(const Canvas& on, const RinkFit& fit, RuleBookId rules, float strength) {
    for (const PaintLine& line : rink_paint(rule_book(rules))) {
        draw_ice_line(on, fit, line.points, faded(paint_colour(line.kind, on.look.colours), strength),
                      std::max(1.0F, 0.1F * on.look.unit));
    }
}

/// Words in the middle of a line on the ice, on a ground of their own so that they read on ice and crowd.
void draw_label(const Canvas& on, const RinkFit& fit, const IceLine& line, ImU32 colour) {
    if (line.label.empty()) return;
    // What is open at a post stands behind the goal line, clear of the goalie's marks.
    const IcePoint aside{0.0, line.kind == IceLineKind::opening ? -0.9 : 0.0};
    const auto at = image_at(fit, (line.points.front() + line.points.back()) * 0.5 + aside);
    if (!at) return;
    const ImVec2 middle = vec(on.view.to_screen(*at));
    const ImVec2 size = text_size(on.look.strong, line.label);
    const float pad = 0.25F * on.look.unit;
    const ImVec2 from{middle.x - 0.5F * size.x - pad, middle.y - 0.5F * size.y - 0.5F * pad};
    on.draw->AddRectFilled(from, {from.x + size.x + 2.0F * pad, from.y + size.y + pad},
                           faded(on.look.colours.ground, 0.78F), pad);
    draw_text(on.draw, on.look.strong, {from.x + pad, from.y + 0.5F * pad}, colour, line.label);
}

void draw_moment(const Canvas& on, const RinkFit& fit, const std::vector<IceLine>& lines) {
    const Palette& c = on.look.colours;
    const float thin = 0.09F * on.look.unit;
    for (const IceLine& line : lines) {
        switch (line.kind) {
        case IceLineKind::rope:
            draw_ice_line(on, fit, line.points, faded(c.rope, 0.85F), 1.4F * thin);
            break;
        case IceLineKind::puck_line:
            draw_ice_line(on, fit, line.points, faded(c.text, 0.6F), thin);
            break;
        case IceLineKind::band:
            draw_ice_line(on, fit, line.points, faded(c.bands[static_cast<int>(*line.band)], 0.55F),
                          5.0F * thin);
            break;
        case IceLineKind::depth:
            draw_ice_line(on, fit, line.points, c.text, 2.0F * thin);
            break;
        case IceLineKind::off_angle:
            draw_ice_line(on, fit, line.points, c.trouble, 2.0F * thin);
            break;
        case IceLineKind::stance:
            draw_ice_line(on, fit, line.points, c.text, 2.0F * thin);
            break;
        case IceLineKind::block:
            draw_ice_line(on, fit, line.points, c.rope, 3.0F * thin);
            break;
        case IceLineKind::shadow:
            draw_ice_line(on, fit, line.points, c.ground, 4.5F * thin);
            break;
        case IceLineKind::opening:
            draw_ice_line(on, fit, line.points, c.trouble, 4.5F * thin);
            break;
        case IceLineKind::pass:
            draw_ice_line(on, fit, line.points, faded(c.save, 0.9F), 1.6F * thin);
            break;
        case IceLineKind::lost_pass:
            draw_ice_dashes(on, fit, line.points, c.trouble, 2.2F * thin);
            break;
        case IceLineKind::advised:
            draw_ice_line(on, fit, line.points, faded(c.save, 0.45F), 11.0F * thin);
            break;
        case IceLineKind::advised_end:
            draw_ice_line(on, fit, line.points, c.save, 2.5F * thin);
            break;
        }
    }
    for (const IceLine& line : lines) {
        const bool trouble = line.kind == IceLineKind::lost_pass || line.kind == IceLineKind::opening;
        draw_label(on, fit, line, trouble ? c.trouble : c.text);
    }
}

void draw_mark(const Canvas& on, const Handle& handle, ImU32 colour, float strength = 1.0F) {
    const ImVec2 at = vec(on.view.to_screen(handle.at));
    const float r = 0.42F * on.look.unit;
    colour = faded(colour, strength);
    const ImU32 under = faded(IM_COL32(0, 0, 0, 255), 0.8F * strength);
    if (handle.kind == MarkKind::puck) {
        on.draw->AddCircle(at, r, under, 0, on.look.pen(4.0F));
        on.draw->AddCircle(at, r, colour, 0, on.look.pen(2.0F));
        on.draw->AddCircleFilled(at, on.look.pen(1.6F), colour);
    } else if (handle.kind == MarkKind::threat) {
        on.draw->AddRect({at.x - r, at.y - r}, {at.x + r, at.y + r}, under, 0.0F, 0, on.look.pen(4.0F));
        on.draw->AddRect({at.x - r, at.y - r}, {at.x + r, at.y + r}, colour, 0.0F, 0, on.look.pen(2.0F));
    } else if (handle.click) {
        // Upright on a point, lying down on a curve.
        const float lean = handle.on_curve ? 0.7F * r : 0.0F, straight = handle.on_curve ? 0.7F * r : r;
        for (const auto& [ink, width] :
             {std::pair{under, on.look.pen(4.0F)}, std::pair{colour, on.look.pen(2.0F)}}) {
            on.draw->AddLine({at.x - straight, at.y - lean}, {at.x + straight, at.y + lean}, ink, width);
            on.draw->AddLine({at.x + lean, at.y - straight}, {at.x - lean, at.y + straight}, ink, width);
        }
    } else {
        // A chevron that stands on the blade: the point is where the skate touches the ice.
        on.draw->AddTriangle({at.x - r, at.y - 1.6F * r}, at, {at.x + r, at.y - 1.6F * r}, under,
                             on.look.pen(4.0F));
        on.draw->AddTriangle({at.x - r, at.y - 1.6F * r}, at, {at.x + r, at.y - 1.6F * r}, colour,
                             on.look.pen(2.0F));
        if (handle.kind == MarkKind::skate_left || handle.kind == MarkKind::skate_right) {
            const char* letter = handle.kind == MarkKind::skate_left ? "L" : "R";
            draw_text(on.draw, on.look.strong,
                      {at.x - 0.3F * on.look.unit, at.y - 1.6F * r - 1.2F * on.look.unit}, colour, letter);
        }
    }
}

/// The ellipse on the ice that holds the true place 95 times in 100, from fit and click.
void draw_halo(const Canvas& on, const RinkFit& fit, const Mark& mark) {
    if (!mark.ice || !mark.sigma) return;
    const double middle = 0.5 * (mark.sigma->xx + mark.sigma->yy);
    const double spread = std::hypot(0.5 * (mark.sigma->xx - mark.sigma->yy), mark.sigma->xy);
    const double angle = 0.5 * std::atan2(2.0 * mark.sigma->xy, mark.sigma->xx - mark.sigma->yy);
    const double long_m =
        2.4477 * std::sqrt(std::max(0.0, middle + spread)); // sqrt of the 95 % point of chi-square, 2 d.f.
    const double short_m = 2.4477 * std::sqrt(std::max(0.0, middle - spread));
    std::vector<IcePoint> ring;
    for (int step = 0; step <= 32; ++step) {
        const double turn = 2.0 * pi * step / 32.0;
        const double along = long_m * std::cos(turn);
        const double across = short_m * std::sin(turn);
        ring.push_back(*mark.ice + IcePoint{along * std::cos(angle) - across * std::sin(angle),
                                            along * std::sin(angle) + across * std::cos(angle)});
    }
    draw_ice_line(on, fit, ring, faded(on.look.colours.rope, 0.9F), on.look.pen(1.0F));
}

/// Residuals ten times their length up to a line or six of text, so that an error of a pixel can be seen; a gross one
/// ends where the others put it.
void draw_residuals(const Canvas& on, const FitDraft& draft) {
    for (std::size_t index = 0; index < draft.clicks.size(); ++index) {
        const auto off = residual_of(draft, index);
        if (!off) continue;
        const ImagePoint at = draft.clicks[index].at;
        const ImVec2 from = vec(on.view.to_screen(at));
        const ImVec2 end = vec(on.view.to_screen({at.x_px - off->x_px, at.y_px - off->y_px}));
        const float true_length = std::hypot(end.x - from.x, end.y - from.y);
        const float length = std::max(true_length, std::min(10.0F * true_length, 6.0F * on.look.unit));
        const float head = 0.4F * on.look.unit;
        if (length < 1.5F * head) continue;
        const ImVec2 along{(end.x - from.x) / true_length, (end.y - from.y) / true_length};
        const ImVec2 to{from.x + length * along.x, from.y + length * along.y};
        const ImVec2 neck{to.x - head * along.x, to.y - head * along.y};
        const ImVec2 left{neck.x - 0.6F * head * along.y, neck.y + 0.6F * head * along.x};
        const ImVec2 right{neck.x + 0.6F * head * along.y, neck.y - 0.6F * head * along.x};
        for (const auto& [ink, width] : {std::pair{IM_COL32(0, 0, 0, 200), on.look.pen(5.0F)},
                                         std::pair{on.look.colours.trouble, on.look.pen(2.5F)}}) {
            on.draw->AddLine(from, neck, ink, width);
            on.draw->AddTriangle(to, left, right, ink, width);
            on.draw->AddTriangleFilled(to, left, right, ink);
        }
    }
}

/// Where the fit expects what is offered: a ring about a landmark, the curve itself.
void draw_offered(const Canvas& on, const FitDraft& draft) {
    if (!draft.fit) return;
    const RuleBook& rules = rule_book(draft.rules);
    if (const auto curve = find_curve(rules, draft.offered)) {
        draw_ice_line(on, *draft.fit, places_along(*curve), faded(on.look.colours.rope, 0.8F),
                      0.3F * on.look.unit);
    } else if (const auto landmark = find_landmark(rules, draft.offered)) {
        const auto at = image_at(*draft.fit, landmark->at);
        if (at)
            on.draw->AddCircle(vec(on.view.to_screen(*at)), on.look.unit, on.look.colours.rope, 0,
                               on.look.pen(2.0F));
    }
}

/// The rink over its ice, and on the moment's own frame what was marked there and what it says.
void draw_measured(const Canvas& on, const LogState& log, const TurnView& view) {
    if (!view.here.fit) return;
    draw_rink(on, *view.here.fit, view.here.key->rules, view.here.state == CarryState::held ? 0.42F : 0.25F);
    if (!view.in_this_frame || !view.moment_fit.fit) return;
    draw_moment(on, *view.moment_fit.fit, view.lines);
    for (const Mark& mark : moment_in_hand(log)->marks)
        draw_halo(on, *view.moment_fit.fit, mark);
}

} // namespace

void draw_overlay(const Canvas& on, const LogPart& part, std::int64_t frame, bool to_be_marked) {
    const LogState& log = part.state();
    const ImU32 white = IM_COL32(255, 255, 255, 255);
    if (const FitDraft* fit = log.selection.fit()) {
        if (fit->fit)
            draw_rink(on, *fit->fit, fit->rules, 0.9F);
        else if (fit->proposed)
            draw_rink(on, *fit->proposed, fit->rules, 0.35F);
        draw_offered(on, *fit);
        draw_residuals(on, *fit);
    } else {
        draw_measured(on, log, part.view);
    }
    if (to_be_marked && log.selection.hand() != Hand::empty) {
        for (const Ghost& faint : part.view.ghosts)
            draw_mark(on, {{}, {}, faint.kind, faint.at}, white, 0.45F);
    }
    const auto held = held_mark(log);
    for (const Handle& handle : handles_of(log, frame)) {
        const bool in_hand = handle.mark && handle.mark == held;
        draw_mark(on, handle, in_hand ? on.look.colours.rope : white);
    }
}

} // namespace ropeline
