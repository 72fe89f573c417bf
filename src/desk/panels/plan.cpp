// The crease from above, to scale: where everybody stood, what is advised, how late the goalie is for whom.
#include "desk/panels/plan.h"

#include "desk/panels/left_graph.h"
#include "desk/panels/plan_ice.h"
#include "desk/state/labels.h"
#include "desk/state/study_words.h"
#include "sheet/overlay_ink.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace ropeline {

namespace {

/// A long dash and a dot, as over the film.
void draw_dashes(ImDrawList* draw, ImVec2 from, ImVec2 to, ImU32 colour, float width, float dash) {
    const float whole = std::hypot(to.x - from.x, to.y - from.y);
    const ImVec2 along{(to.x - from.x) / std::max(1.0F, whole), (to.y - from.y) / std::max(1.0F, whole)};
    for (const auto& [first, last] : inked_stretches(whole, dash)) {
        const auto begin = static_cast<float>(first), end = static_cast<float>(last);
        draw->AddLine({from.x + along.x * begin, from.y + along.y * begin},
                      {from.x + along.x * end, from.y + along.y * end}, colour, width);
    }
}

/// What is on the plan, to scale.
struct ToScale {
    const Look& look;
    ImDrawList* draw;
    const PlanView& plan;
    float px(double metres) const { return static_cast<float>(metres * plan.scale()); }
    ImVec2 at(IcePoint place) const { return vec(plan.to_screen(place)); }
};

/// A line from one place to the other as wide as something is on the ice, with round ends.
void draw_bar(const ToScale& on, IcePoint from, IcePoint to, double wide_m, ImU32 colour) {
    const float width = std::max(on.look.pen(3.0F), on.px(wide_m));
    on.draw->AddLine(on.at(from), on.at(to), colour, width);
    on.draw->AddCircleFilled(on.at(from), 0.5F * width, colour);
    on.draw->AddCircleFilled(on.at(to), 0.5F * width, colour);
}

/// The goalie as a block: the width across the line to the puck, the skates on it where they are marked.
void draw_goalie(const ToScale& on, const Moment& moment, const std::vector<IceLine>& lines) {
    const Palette& c = on.look.colours;
    const auto goalie = goalie_place(moment);
    if (!goalie) return;
    constexpr double deep_m = 0.30, edge_m = 0.07;
    for (const IceLine& line : lines) {
        if (line.kind != IceLineKind::block) continue;
        const IcePoint across = line.points.back() - line.points.front();
        const IcePoint inset = across * (0.5 * deep_m / std::max(deep_m, length(across)));
        draw_bar(on, line.points.front() + inset, line.points.back() - inset, deep_m + edge_m, c.ground);
        draw_bar(on, line.points.front() + inset, line.points.back() - inset, deep_m, c.rope);
    }
    for (const Mark& mark : moment.marks) {
        if (!mark.ice || (mark.kind != MarkKind::skate_left && mark.kind != MarkKind::skate_right)) continue;
        on.draw->AddCircleFilled(on.at(*mark.ice), std::max(on.look.pen(2.0F), on.px(0.05)), c.on_rope);
    }
    const ImVec2 at = on.at(*goalie);
    on.draw->AddCircle(at, std::max(on.look.pen(4.0F), on.px(0.10)), c.on_rope, 0, on.look.pen(1.5F));
}

void draw_marks(const ToScale& on, const Moment& moment) {
    const Palette& c = on.look.colours;
    for (const Mark& mark : moment.marks) {
        if (!mark.ice) continue;
        const ImVec2 at = on.at(*mark.ice);
        if (mark.kind == MarkKind::puck) {
            on.draw->AddCircleFilled(at, std::max(0.3F * on.look.unit, on.px(0.038)), c.text);
            on.draw->AddCircle(at, std::max(0.3F * on.look.unit, on.px(0.038)), c.ice);
        } else if (mark.kind == MarkKind::threat) {
            const float r = std::max(0.34F * on.look.unit, on.px(0.22));
            on.draw->AddRect({at.x - r, at.y - r}, {at.x + r, at.y + r}, c.text, 0.0F, 0, on.look.pen(2.0F));
        }
    }
}

void draw_moment(const ToScale& on, const Moment& moment, const std::vector<IceLine>& lines) {
    const Palette& c = on.look.colours;
    const Look& look = on.look;
    for (const IceLine& line : lines) {
        const ImVec2 from = on.at(line.points.front()), to = on.at(line.points.back());
        switch (line.kind) {
        case IceLineKind::rope:
            draw_dashes(on.draw, from, to, c.rope, look.pen(1.6F), on.px(0.45));
            break;
        case IceLineKind::puck_line:
            on.draw->AddLine(from, to, faded(c.text, 0.55F), look.pen(1.2F));
            break;
        case IceLineKind::band:
            on.draw->AddLine(from, to, c.bands[static_cast<int>(*line.band)], look.pen(5.0F));
            break;
        case IceLineKind::off_angle:
            on.draw->AddLine(from, to, c.trouble, look.pen(2.0F));
            break;
        case IceLineKind::pass:
            on.draw->AddLine(from, to, c.save, look.pen(1.6F));
            break;
        case IceLineKind::lost_pass:
            draw_dashes(on.draw, from, to, c.trouble, look.pen(2.4F), on.px(0.45));
            break;
        case IceLineKind::advised:
            on.draw->AddLine(from, to, faded(c.save, 0.45F), std::max(look.pen(11.0F), on.px(0.30)));
            break;
        case IceLineKind::advised_end:
            on.draw->AddLine(from, to, c.save, look.pen(2.5F));
            break;
        case IceLineKind::opening:
            on.draw->AddLine(from, to, c.trouble, look.pen(4.0F));
            break;
        case IceLineKind::block:
        case IceLineKind::shadow:
        case IceLineKind::depth:
        case IceLineKind::stance:
            break;
        }
    }
    draw_goalie(on, moment, lines);
    draw_marks(on, moment);
}

/// Words that are to stand on the plan.
struct PlanWords {
    IcePoint at;
    std::string words;
    ImFont* font = nullptr;
    ImU32 colour = 0;
};

/// How late the goalie is for each receiver, by letter; where there is no room for it in large, in small.
std::vector<PlanWords> words_of_receivers(const Look& look, const Judged& view) {
    std::vector<PlanWords> all;
    for (std::size_t index = 0; index < view.asked.threats.size(); ++index) {
        const ThreatReading& pass = view.decision.threats[index];
        const bool late = pass.late_s > 0.0;
        all.push_back({view.asked.threats[index].at, pass_words(view.asked.threats[index].kind, index, pass),
                       late ? look.fact : look.strong, late ? look.colours.trouble : look.colours.text});
    }
    return all;
}

/// What the figures of the column are, each where it is meant: at the posts, the skates, the puck.
std::vector<PlanWords> words_of_figures(const Look& look, const Judged& view, const RuleBook& rules) {
    const Palette& c = look.colours;
    const Reading& reading = view.decision.reading;
    const MarkedMoment& marked = view.asked.moment;
    const auto words = [&](IcePoint at, std::string said) {
        return PlanWords{at, std::move(said), look.body, c.text};
    };
    std::vector<PlanWords> all;
    const double post = rules.post_half_gap.m;
    if (const auto& net = reading.coverage) {
        const double short_x = marked.puck.x_m < 0.0 ? -post : post;
        all.push_back(words({short_x, 0.0}, "short side " + length_words(look, net->short_side.goal_line_m)));
        all.push_back(words({-short_x, 0.0}, "far side " + length_words(look, net->far_side.goal_line_m)));
    }
    const double beyond = reading.clearance_m;
    all.push_back(
        words(marked.stance.goalie, fmt::format("{} {} the paint", length_words(look, std::abs(beyond)),
                                                beyond > 0.0 ? "outside" : "inside")));
    all.push_back(words(marked.puck, fmt::format("{:.2f} s to react", reading.reaction_s)));
    return all;
}

/// A puck that lies beyond the plan is named where its line leaves it.
void name_far_puck(const ToScale& on, const Judged& view, std::vector<PlanWords>& said) {
    const IcePoint puck = view.asked.moment.puck;
    if (on.plan.panel.holds(on.plan.to_screen(puck))) return;
    said.push_back({puck, fmt::format("puck {} out", length_words(on.look, length(puck))), on.look.strong,
                    on.look.colours.text});
}

/// Words beside what they name, clear of goalie, puck, receivers, net and each other.
void draw_words(const ToScale& on, const std::vector<PlanWords>& said, const Judged& view) {
    const Look& look = on.look;
    std::vector<Rect> keep_clear;
    const auto keep = [&](IcePoint at, double radius_m) {
        const ImVec2 middle = on.at(at);
        const float r = std::max(0.6F * look.unit, on.px(radius_m));
        keep_clear.push_back({middle.x - r, middle.y - r, 2.0F * r, 2.0F * r});
    };
    keep(view.asked.moment.stance.goalie, 0.45);
    keep(view.asked.moment.puck, 0.1);
    for (const Threat& threat : view.asked.threats)
        keep(threat.at, 0.25);
    const float pad = 0.25F * look.unit;
    const Rect& panel = on.plan.panel;
    const Rect room{panel.x + pad, panel.y + pad, panel.width - 2.0F * pad, panel.height - 2.0F * pad};
    std::vector<LabelWish> wishes;
    for (const PlanWords& one : said) {
        const ImVec2 size = text_size(one.font, one.words);
        wishes.push_back({on.plan.to_screen(one.at), size.x + 2.0F * pad, size.y});
    }
    const auto places = place_labels(room, wishes, keep_clear, 0.4F * look.unit);
    for (std::size_t index = 0; index < said.size(); ++index) {
        if (!places[index]) continue;
        const Rect& place = *places[index];
        on.draw->AddRectFilled(corner(place), far_corner(place), faded(look.colours.ice, 0.85F), pad);
        draw_text(on.draw, said[index].font, {place.x + pad, place.y}, said[index].colour, said[index].words);
    }
}

/// Dragging the goalie asks what if he had stood there.
void try_places(const Look& look, const PlanView& plan, const Moment& moment, std::optional<IcePoint>& tried,
                bool& trying) {
    trying = false;
    const auto goalie = goalie_place(moment);
    if (!goalie || !moment.reading) return;
    const ImVec2 at = vec(plan.to_screen(*goalie));
    const float reach = 0.8F * look.unit;
    ImGui::SetCursorScreenPos({at.x - reach, at.y - reach});
    ImGui::InvisibleButton("goalie", {2.0F * reach, 2.0F * reach});
    if (ImGui::IsItemHovered() && !ImGui::IsItemActive() && !tried)
        ImGui::SetTooltip("%s", with_keys("Drag the goalie to ask: what if this had been the place? "
                                          "[keep_tried] keeps it, [put_down] goes back.")
                                    .c_str());
    if (!ImGui::IsItemActive() || !ImGui::IsMouseDragging(ImGuiMouseButton_Left, 2.0F)) return;
    trying = true;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    tried = plan.to_ice({mouse.x, mouse.y});
}

/// How far out and how far off the puck line the place under the cursor is, beside the cursor.
void draw_read_out(const ToScale& on, IcePoint place, ImVec2 mouse, const Moment& moment, LengthUnit unit) {
    const Mark* puck = find_mark(moment, MarkKind::puck);
    if (!puck || !puck->ice) return;
    const Look& look = on.look;
    on.draw->AddLine(on.at(*puck->ice), mouse, faded(look.colours.text, 0.4F), look.pen(1.2F));
    const std::string words = place_read_out(place, *puck->ice, unit);
    const float pad = 0.3F * look.unit;
    const ImVec2 size = text_size(look.body, words);
    const Rect& room = on.plan.panel;
    const float x = std::clamp(mouse.x + look.unit, room.x + pad,
                               std::max(room.x + pad, room.x + room.width - size.x - 2.0F * pad));
    const float below = mouse.y + look.unit, above = mouse.y - 2.4F * look.unit;
    const float y = below + 1.6F * look.unit < room.y + room.height ? below : above;
    on.draw->AddRectFilled({x - pad, y}, {x + size.x + pad, y + 1.4F * look.unit}, look.colours.raised, pad);
    draw_text(on.draw, look.body, {x, y + 0.2F * look.unit}, look.colours.text, words);
}

/// Puck and receivers. The goalie, who is dragged about on the plan, has no say in how large it is.
std::vector<IcePoint> places_of_play(const TurnView& view) {
    std::vector<IcePoint> places;
    if (view.moment) {
        for (const Mark& mark : view.moment->marks)
            if (mark.ice && (mark.kind == MarkKind::puck || mark.kind == MarkKind::threat))
                places.push_back(*mark.ice);
    }
    return places;
}

/// The plan as large as the play allows, and never so small that the crease is not what is seen first: who is further
/// away is named at the edge.
PlanView crease_view(const Rect& place, const TurnView& view) {
    constexpr double aside_m = 4.3, out_m = 7.3, behind_m = -2.5;
    std::vector<IcePoint> places = places_of_play(view);
    for (IcePoint& at : places)
        at = {std::clamp(at.x_m, -aside_m, aside_m), std::clamp(at.y_m, behind_m, out_m)};
    return plan_of_play(place, places, view.plan_net);
}

/// The graph of net left takes the plan's foot when there is one and the plan is high enough for both.
std::pair<Rect, Rect> plan_and_graph(const Look& look, const Rect& place, const TurnView& view) {
    const float wanted = 5.0F * look.unit + look.type.fact, least = 3.0F * look.unit + look.type.fact;
    const float room = std::min(wanted, 0.30F * place.height);
    const float tall = view.left && room >= least ? room : 0.0F;
    return {{place.x, place.y, place.width, place.height - tall},
            {place.x, place.y + place.height - tall, place.width, tall}};
}

/// The place that was answered, as the graph of net left has it.
std::optional<GraphPlace> answered_place(const StudyTurn& turn, const Judged& view) {
    if (!turn.place || !turn.worth || turn.worth->on_post) return {};
    return GraphPlace{depth_m(*turn.place, view.asked.moment.puck), turn.worth->left};
}

} // namespace

void draw_plan(const Panel& panel, LogPart& part) {
    const Look& look = panel.look;
    begin_panel("plan", panel.place, look.colours.ice);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const auto [room, graph] = plan_and_graph(look, panel.place, part.view);
    const PlanView plan = crease_view(room, part.view);
    const RuleBook& rules = rule_book(part.view.moment_rules);
    draw->PushClipRect(corner(room), far_corner(room), true);
    draw_ice(look, draw, plan, rules);
    if (const auto& moment = part.view.moment) {
        const ToScale on{look, draw, plan};
        draw_moment(on, *moment, part.view.lines);
        if (const auto& judged = part.view.judged) {
            auto words = words_of_receivers(look, *judged);
            if (ImGui::IsMouseHoveringRect(corner(room), far_corner(room)) && ImGui::IsWindowHovered()) {
                auto more = words_of_figures(look, *judged, rules);
                words.insert(words.end(), more.begin(), more.end());
            }
            name_far_puck(on, *judged, words);
            draw_words(on, words, *judged);
        }
        try_places(look, plan, *moment, part.tried, part.trying);
    } else {
        part.trying = false;
    }
    draw->PopClipRect();
    if (graph.height > 0.0F) draw_left_graph(look, draw, graph, *part.view.judged, *part.view.left);
    ImGui::End();
}

void draw_study_plan(const Panel& panel, const LogPart& part, const StudyTurn& turn) {
    const Look& look = panel.look;
    begin_panel("study plan", panel.place, look.colours.ice);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const auto& moment = part.view.moment;
    const bool answered = turn.phase == StudyPhase::answer;
    const auto [under_graph, graph] = plan_and_graph(look, panel.place, part.view);
    const PlanView plan =
        plan_of_play(answered ? under_graph : panel.place, places_of_play(part.view), part.view.plan_net);
    const ToScale on{look, draw, plan};
    draw->PushClipRect(corner(plan.panel), far_corner(plan.panel), true);
    draw_ice(look, draw, plan, rule_book(part.view.rules));
    if (moment && answered) {
        draw_moment(on, *moment, part.view.lines);
        if (const auto& judged = part.view.judged) {
            auto words = words_of_receivers(look, *judged);
            if (turn.place) words.push_back({*turn.place, "you", look.strong, look.colours.text});
            draw_words(on, words, *judged);
        }
    } else if (moment && turn.phase != StudyPhase::run_up) {
        Moment play = *moment;
        std::erase_if(play.marks, [](const Mark& mark) {
            return mark.kind != MarkKind::puck && mark.kind != MarkKind::threat;
        });
        draw_marks(on, play);
    }
    if (turn.place) {
        const ImVec2 at = vec(plan.to_screen(*turn.place));
        draw->AddCircle(at, 0.45F * look.unit, look.colours.text, 0, look.pen(2.5F));
    }
    if (turn.phase == StudyPhase::place && moment && ImGui::IsWindowHovered()) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        const ImVec2 mouse = ImGui::GetIO().MousePos;
        draw->AddCircle(mouse, 0.45F * look.unit, look.colours.rope, 0, look.pen(2.0F));
        draw_read_out(on, plan.to_ice({mouse.x, mouse.y}), mouse, *moment, part.view.of.unit);
        if (ImGui::IsMouseClicked(ImGuiMouseButton_Left))
            panel.actions.push_back(CallPlace{plan.to_ice({mouse.x, mouse.y})});
    }
    draw->PopClipRect();
    if (answered && graph.height > 0.0F)
        draw_left_graph(look, draw, graph, *part.view.judged, *part.view.left,
                        answered_place(turn, *part.view.judged));
    ImGui::End();
}

} // namespace ropeline
