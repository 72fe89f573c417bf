#include "desk/state/turn_view.h"

#include "desk/state/log_shape.h"
#include "season/derive.h"
#include "season/own_figures.h"

#include <cstdlib>
#include <iterator>
#include <utility>

namespace ropeline {

namespace {

bool same_place(const std::optional<IcePoint>& one, const std::optional<IcePoint>& other) {
    if (!one || !other) return one.has_value() == other.has_value();
    return one->x_m == other->x_m && one->y_m == other->y_m;
}

void put_firmness(const LogState& state, TurnView& view, const std::optional<Firmness>& firmness) {
    view.firmness = firmness;
    view.firmness_known = true;
    view.judged->figures = figures_of(state, *view.moment, *view.judged, firmness, view.of.unit);
}

/// Where the play is in the frame that is seen, which may be a little before or after the moment.
std::optional<PictureBox> play_in_frame(const LogState& state, const Moment& in_hand, std::int64_t frame) {
    constexpr std::int64_t near_frames = 30;
    if (in_hand.film_id != open_film(state) || std::abs(in_hand.frame - frame) > near_frames ||
        log_shape(state) != LogShape::moment)
        return std::nullopt;
    Moment here = in_hand;
    here.frame = frame;
    const FitHere rink = fit_for(state, chosen_shot(state)->shot, here);
    return box_of_play(in_hand, rink);
}

/// How the plan lies for a moment: as the picture does, by the rink there or the nearest known on its film, so that it does
/// not turn under the hand when the rink is found.
NetAt net_on_plan(const LogState& state, const Shot& shot, const Moment& moment, const FitHere& there) {
    if (there.fit) return plan_net_of(*there.fit);
    const StoredFit* nearest = nullptr;
    const auto away = [&moment](const StoredFit& one) { return std::abs(one.frame - moment.frame); };
    for (const auto* fits : {&state.fits, &state.other_fits})
        for (const StoredFit& one : *fits)
            if (one.film_id == moment.film_id && (!nearest || away(one) < away(*nearest))) nearest = &one;
    if (!nearest) return NetAt::bottom;
    return plan_net_of(fit_for(shot, moment, nearest->fit, rule_book(nearest->rules)));
}

/// What is drawn for the moment in hand.
void view_moment(const LogState& state, const Moment& in_hand, TurnView& view) {
    const ShotEntry& entry = *chosen_shot(state);
    view.moment = view.of.tried ? with_goalie_at(in_hand, *view.of.tried) : in_hand;
    view.in_this_frame = in_hand.film_id == open_film(state) && in_hand.frame == view.of.frame;
    view.moment_fit = fit_for(state, entry.shot, in_hand);
    view.plan_net = net_on_plan(state, entry.shot, in_hand, view.moment_fit);
    view.play = play_in_frame(state, in_hand, view.of.frame);
    view.moment_rules = rules_for(state, in_hand);
    const RuleBook& rules = rule_book(view.moment_rules);
    view.judged = judged(state, entry, *view.moment, view.of.unit);
    view.parameters = parameters_of(state.season.parameters, state.goalies, entry.shot.goalie_id);
    view.lines = moment_lines(*view.moment, rules, view.parameters);
    if (!view.judged) return;
    const auto& kept = in_hand.judgement;
    if (!view.of.tried && kept && kept->firmness) put_firmness(state, view, kept->firmness);
    if (const auto& advice = view.judged->decision.advice)
        view.left = left_curve(play_marks(view.judged->asked.moment), *advice, rules, view.parameters);
    auto more = decision_lines(view.judged->asked, view.judged->decision, rules);
    view.lines.insert(view.lines.end(), std::make_move_iterator(more.begin()),
                      std::make_move_iterator(more.end()));
}

} // namespace

NetAt plan_net_of(const RinkFit& fit) {
    const auto net = image_at(fit, {0.0, 0.0});
    constexpr double aside_px = 10.0;
    const auto left = net ? ice_at(fit, {net->x_px - aside_px, net->y_px}) : std::nullopt;
    const auto right = net ? ice_at(fit, {net->x_px + aside_px, net->y_px}) : std::nullopt;
    return left && right ? net_as_filmed(*right - *left) : NetAt::bottom;
}

bool operator==(const TurnOf& one, const TurnOf& other) {
    return one.revision == other.revision && one.frame == other.frame && one.image == other.image &&
           one.unit == other.unit && same_place(one.tried, other.tried);
}

TurnView turn_view(const LogState& state, const TurnOf& of) {
    TurnView view;
    view.of = of;
    view.here = fit_here(state, of.frame);
    const FitDraft* draft = state.selection.fit();
    view.rules = draft ? draft->rules : view.here.key ? view.here.key->rules : game_rules(state);
    view.moment_rules = game_rules(state);
    view.parameters = state.season.parameters;
    if (const Moment* in_hand = moment_in_hand(state)) view_moment(state, *in_hand, view);
    const Hand hand = state.selection.hand();
    view.ghosts = ghosts(state, of.frame, of.image);
    if (hand != Hand::empty) view.asked = ghosts_asked_for(view.ghosts, hand);
    return view;
}

void take_firmness(const LogState& state, const TurnView& before, TurnView& view) {
    const bool same = before.firmness_known && before.moment && view.moment &&
                      before.moment->id == view.moment->id && before.of.revision == view.of.revision &&
                      same_place(before.of.tried, view.of.tried);
    if (same && view.judged && !view.firmness_known) put_firmness(state, view, before.firmness);
}

void work_out_firmness(const LogState& state, TurnView& view) {
    if (!view.judged || view.firmness_known) return;
    put_firmness(state, view, firmness_of(state, *view.moment, *view.judged));
}

} // namespace ropeline
