// The rink over its ice, the lines of the moment in hand, its marks.
#include "desk/panels/film_overlay.h"

#include "desk/state/clear_of.h"
#include "desk/state/labels.h"
#include "rink/curves.h"
#include "rink/landmarks.h"
#include "rink/paint.h"
#include "rink/units.h"
#include "sheet/overlay_ink.h"

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

ImU32 colour_of(InkColour ink) {
    return IM_COL32(ink.red, ink.green, ink.blue, 255);
}

/// A core with a rim, so that it stands on ice, paint and boards alike.
struct Stroke {
    ImU32 core, rim;
    float width = 1.0F, rim_width = 3.0F;
};

Stroke stroke_of(const Look& look, bool late, float width_px) {
    return {colour_of(late ? late_ink : overlay_ink), faded(colour_of(late ? late_rim : overlay_rim), 0.75F),
            look.pen(width_px), look.pen(width_px + 1.8F)};
}

/// A straight line on the ice, clear of what is marked; in dashes as long on the ice wherever they lie.
void draw_stroke(const Canvas& on, const RinkFit& fit, const IceLine& line,
                 std::span<const KeptClear> kept_clear, const Stroke& stroke, bool dashed) {
    constexpr double dash_m = 0.45;
    const IcePoint from = line.points.front(), to = line.points.back();
    const double whole = distance(from, to);
    if (!(whole > 0.0)) return;
    const IcePoint along = (to - from) * (1.0 / whole);
    std::vector<std::vector<IcePoint>> pieces;
    for (const auto& [first, last] : clear_stretches(from, to, kept_clear)) {
        const auto inked = dashed ? inked_stretches(last - first, dash_m)
                                  : std::vector<std::pair<double, double>>{{0.0, last - first}};
        for (const auto& [begin, end] : inked)
            pieces.push_back({from + along * (first + begin), from + along * (first + end)});
    }
    for (const auto& piece : pieces)
        draw_ice_line(on, fit, piece, stroke.rim, stroke.rim_width);
    for (const auto& piece : pieces)
        draw_ice_line(on, fit, piece, stroke.core, stroke.width);
}

void draw_rink(const Canvas& on, const RinkFit& fit, RuleBookId rules, float strength) {
    for (const PaintLine& line : rink_paint(rule_book(rules))) {
        draw_ice_line(on, fit, line.points, faded(paint_colour(line.kind, on.look.colours), strength),
                      std::max(1.0F, 0.1F * on.look.unit));
    }
}

/// Few and thin: what puck and receivers see of the play. All else is on the plan, where it hides nobody.
void draw_moment(const Canvas& on, const RinkFit& fit, const Moment& moment,
                 const std::vector<IceLine>& lines) {
    const auto kept_clear = kept_clear_of(moment);
    for (const IceLine& line : lines) {
        switch (line.kind) {
        case IceLineKind::rope:
        case IceLineKind::pass:
            draw_stroke(on, fit, line, kept_clear, stroke_of(on.look, false, 1.2F), true);
            break;
        case IceLineKind::lost_pass:
            draw_stroke(on, fit, line, kept_clear, stroke_of(on.look, true, 2.4F), true);
            break;
        case IceLineKind::advised:
        case IceLineKind::advised_end:
            draw_stroke(on, fit, line, kept_clear, stroke_of(on.look, false, 1.6F), false);
            break;
        case IceLineKind::puck_line:
        case IceLineKind::band:
        case IceLineKind::depth:
        case IceLineKind::off_angle:
        case IceLineKind::stance:
        case IceLineKind::block:
        case IceLineKind::shadow:
        case IceLineKind::opening:
            break;
        }
    }
}

/// Somebody who stands there, on screen, in his height.
std::optional<Rect> somebody_at(const Canvas& on, const RinkFit& fit, IcePoint place) {
    const auto feet = image_at(fit, place), beside = image_at(fit, place + IcePoint{1.0, 0.0});
    if (!feet || !beside) return std::nullopt;
    const ScreenPoint at = on.view.to_screen(*feet);
    const auto metre = static_cast<float>(std::hypot(beside->x_px - feet->x_px, beside->y_px - feet->y_px) *
                                          on.view.scale());
    return Rect{at.x - 0.5F * metre, at.y - 1.7F * metre, metre, 1.9F * metre};
}

/// What must not be hidden, on screen: everybody who is marked, in his height, and about every mark.
std::vector<Rect> not_to_hide(const Canvas& on, const std::vector<Handle>& handles, const TurnView& view) {
    std::vector<Rect> keep_clear;
    for (const Handle& handle : handles) {
        const ScreenPoint at = on.view.to_screen(handle.at);
        const float r = 1.2F * on.look.unit;
        keep_clear.push_back({at.x - r, at.y - r, 2.0F * r, 2.0F * r});
    }
    if (!view.moment) return keep_clear;
    const auto keep = [&](const std::optional<IcePoint>& place) {
        const auto body = place ? somebody_at(on, *view.moment_fit.fit, *place) : std::nullopt;
        if (body) keep_clear.push_back(*body);
    };
    keep(goalie_place(*view.moment));
    for (const Mark& mark : view.moment->marks)
        if (mark.kind == MarkKind::threat) keep(mark.ice);
    return keep_clear;
}

/// How late the goalie is for each receiver, beside him, clear of everybody that is marked.
void draw_labels(const Canvas& on, const TurnView& view, const std::vector<Handle>& handles) {
    const Look& look = on.look;
    const float pad = 0.3F * look.unit;
    std::vector<LabelWish> wishes;
    std::vector<const IceLine*> said;
    for (const IceLine& line : view.lines) {
        const bool pass = line.kind == IceLineKind::pass || line.kind == IceLineKind::lost_pass;
        const auto at = pass ? image_at(*view.moment_fit.fit, line.points.back()) : std::nullopt;
        if (!at) continue;
        const ImVec2 size = text_size(look.strong, line.label);
        wishes.push_back({on.view.to_screen(*at), size.x + 2.0F * pad, size.y + pad});
        said.push_back(&line);
    }
    const Rect& panel = on.view.panel;
    const Rect room{panel.x + pad, panel.y + pad, panel.width - 2.0F * pad, panel.height - 2.0F * pad};
    const auto places = place_labels(room, wishes, not_to_hide(on, handles, view), 0.5F * look.unit);
    for (std::size_t index = 0; index < places.size(); ++index) {
        if (!places[index]) continue;
        const Rect& place = *places[index];
        const bool late = said[index]->kind == IceLineKind::lost_pass;
        on.draw->AddRectFilled(corner(place), far_corner(place),
                               late ? colour_of(late_ink) : faded(colour_of(overlay_rim), 0.85F), pad);
        draw_text(on.draw, look.strong, {place.x + pad, place.y + 0.5F * pad},
                  colour_of(late ? late_rim : overlay_ink), said[index]->label);
    }
}

/// Lines of one stroke: all rims, then all cores.
void draw_lines(const Canvas& on, const std::vector<std::vector<ImVec2>>& lines, const Stroke& stroke) {
    for (const auto& [ink, width] : {std::pair{stroke.rim, stroke.rim_width}, {stroke.core, stroke.width}})
        for (const auto& line : lines)
            on.draw->AddPolyline(line.data(), static_cast<int>(line.size()), ink, ImDrawFlags_None, width);
}

/// Beside and under what it marks, never over it: a ring wide about the puck, a bracket under an opponent's skates, a
/// tick under a blade whose tip is where it touches the ice.
void draw_mark(const Canvas& on, const Handle& handle, bool in_hand, bool lettered, float strength = 1.0F) {
    const ImVec2 at = vec(on.view.to_screen(handle.at));
    const float r = 0.42F * on.look.unit;
    Stroke stroke = stroke_of(on.look, false, in_hand ? 2.4F : 1.3F);
    stroke.core = faded(stroke.core, strength);
    stroke.rim = faded(stroke.rim, 0.75F * strength);
    if (handle.kind == MarkKind::puck) {
        const float ring = std::max(1.5F * r, static_cast<float>(12.0 * on.view.scale()));
        on.draw->AddCircle(at, ring, stroke.rim, 0, stroke.rim_width);
        on.draw->AddCircle(at, ring, stroke.core, 0, stroke.width);
    } else if (handle.kind == MarkKind::threat) {
        const float wide = 1.7F * r, low = 0.7F * r;
        draw_lines(on,
                   {{{at.x - wide, at.y - low},
                     {at.x - wide, at.y + low},
                     {at.x + wide, at.y + low},
                     {at.x + wide, at.y - low}}},
                   stroke);
    } else if (handle.click) {
        // Upright on a point, lying down on a curve; the point itself stays free.
        const float lean = handle.on_curve ? 0.7F : 0.0F, straight = handle.on_curve ? 0.7F : 1.0F;
        std::vector<std::vector<ImVec2>> arms;
        for (const auto& [x, y] :
             {std::pair{straight, lean}, {-straight, -lean}, {lean, -straight}, {-lean, straight}})
            arms.push_back(
                {{at.x + 0.3F * r * x, at.y + 0.3F * r * y}, {at.x + 1.1F * r * x, at.y + 1.1F * r * y}});
        draw_lines(on, arms, stroke);
    } else {
        const float off = on.look.pen(2.0F);
        draw_lines(on,
                   {{{at.x - 0.6F * r, at.y + off + 1.5F * r},
                     {at.x, at.y + off},
                     {at.x + 0.6F * r, at.y + off + 1.5F * r}}},
                   stroke);
        if (lettered && (handle.kind == MarkKind::skate_left || handle.kind == MarkKind::skate_right)) {
            const char* letter = handle.kind == MarkKind::skate_left ? "L" : "R";
            const float x = at.x - 0.5F * text_size(on.look.strong, letter).x, y = at.y + off + 1.5F * r;
            draw_text(on.draw, on.look.strong, {x + on.look.pen(1.0F), y + on.look.pen(1.0F)}, stroke.rim,
                      letter);
            draw_text(on.draw, on.look.strong, {x, y}, stroke.core, letter);
        }
    }
}

/// Left and right can be told by letters: they would stand on one another else.
bool skates_apart(const Canvas& on, const std::vector<Handle>& handles) {
    const auto left = std::ranges::find(handles, MarkKind::skate_left, &Handle::kind);
    const auto right = std::ranges::find(handles, MarkKind::skate_right, &Handle::kind);
    if (left == handles.end() || right == handles.end()) return true;
    const ScreenPoint one = on.view.to_screen(left->at), other = on.view.to_screen(right->at);
    return std::abs(one.x - other.x) > 1.1F * on.look.unit || std::abs(one.y - other.y) > 1.3F * on.look.unit;
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
    draw_ice_line(on, fit, ring, faded(colour_of(overlay_ink), 0.9F), on.look.pen(1.0F));
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

/// In a colour that no paint has: over the lines it would not be seen in theirs.
void draw_proposal(const Canvas& on, const RinkFit& fit, RuleBookId rules) {
    for (const PaintLine& line : rink_paint(rule_book(rules)))
        draw_ice_line(on, fit, line.points, faded(colour_of(overlay_ink), 0.6F), on.look.pen(1.5F));
}

/// Where the fit expects what is offered: a ring about a landmark, the curve itself.
void draw_offered(const Canvas& on, const FitDraft& draft) {
    if (!draft.fit) return;
    const RuleBook& rules = rule_book(draft.rules);
    if (const auto curve = find_curve(rules, draft.offered)) {
        draw_ice_line(on, *draft.fit, places_along(*curve), faded(colour_of(overlay_ink), 0.8F),
                      0.3F * on.look.unit);
    } else if (const auto landmark = find_landmark(rules, draft.offered)) {
        const auto at = image_at(*draft.fit, landmark->at);
        if (at)
            on.draw->AddCircle(vec(on.view.to_screen(*at)), on.look.unit, colour_of(overlay_ink), 0,
                               on.look.pen(2.0F));
    }
}

/// The rink over its ice, and on the moment's own frame what was marked there and what it says.
void draw_measured(const Canvas& on, const LogState& log, const TurnView& view) {
    if (!view.here.fit) return;
    draw_rink(on, *view.here.fit, view.here.key->rules, view.here.state == CarryState::held ? 0.35F : 0.2F);
    if (!view.in_this_frame || !view.moment_fit.fit) return;
    draw_moment(on, *view.moment_fit.fit, *view.moment, view.lines);
    for (const Mark& mark : moment_in_hand(log)->marks)
        draw_halo(on, *view.moment_fit.fit, mark);
    draw_labels(on, view, handles_of(log, view.of.frame));
}

} // namespace

void draw_fitted_paint(const Canvas& on, const FitDraft& fit) {
    if (fit.fit)
        draw_rink(on, *fit.fit, fit.rules, 0.9F);
    else if (fit.proposed)
        draw_proposal(on, *fit.proposed, fit.rules);
}

void draw_overlay(const Canvas& on, const LogPart& part, std::int64_t frame, bool to_be_marked) {
    const LogState& log = part.state();
    if (const FitDraft* fit = log.selection.fit()) {
        draw_fitted_paint(on, *fit);
        draw_offered(on, *fit);
        draw_residuals(on, *fit);
    } else {
        draw_measured(on, log, part.view);
    }
    if (to_be_marked && log.selection.hand() != Hand::empty) {
        for (const Ghost& faint : part.view.ghosts)
            draw_mark(on, {{}, {}, faint.kind, faint.at}, false, false, 0.5F);
    }
    const auto held = held_mark(log);
    const auto handles = handles_of(log, frame);
    // Which skate is which is known by where the puck is.
    const bool lettered = skates_apart(on, handles) &&
                          std::ranges::find(handles, MarkKind::puck, &Handle::kind) != handles.end();
    for (const Handle& handle : handles)
        draw_mark(on, handle, handle.mark && handle.mark == held, lettered);
}

} // namespace ropeline
