#include "season/play.h"

#include "depth/sequence.h"

#include <algorithm>

namespace ropeline {

namespace {

std::optional<IcePoint> place_of(const Moment& moment, MarkKind kind) {
    const auto found = std::ranges::find(moment.marks, kind, &Mark::kind);
    return found == moment.marks.end() ? std::nullopt : found->ice;
}

std::optional<Stance> stance_of(const Moment& moment) {
    const auto left = place_of(moment, MarkKind::skate_left);
    const auto right = place_of(moment, MarkKind::skate_right);
    if (left && right) return stance_from_skates(*left, *right);
    const auto goalie = place_of(moment, MarkKind::goalie);
    return goalie ? std::optional{stance_from_mark(*goalie)} : std::nullopt;
}

/// Seconds a tick of the film's clock; nothing for a shot without a film time.
std::optional<double> tick_s(const Shot& shot) {
    if (shot.pts_ticks == 0 || !(shot.film_s > 0.0)) return std::nullopt;
    return shot.film_s / static_cast<double>(shot.pts_ticks);
}

/// Standing still at the release, from the moment before it when that is near enough to tell.
std::optional<bool> stands_still(const Shot& shot, std::span<const Moment> play, std::size_t index) {
    const auto tick = tick_s(shot);
    if (index == 0 || play[index].kind != MomentKind::release || !tick) return std::nullopt;
    const Moment& before = play[index - 1];
    if (before.film_id != play[index].film_id) return std::nullopt;
    const auto from = stance_of(before);
    const auto to = stance_of(play[index]);
    if (!from || !to) return std::nullopt;
    return set_at(from->goalie, to->goalie,
                  *tick * static_cast<double>(play[index].pts_ticks - before.pts_ticks));
}

/// Whether the turn was ahead of the way out, over a moment and the two before it.
std::optional<AngleBeforeDepth> order_at(std::span<const Moment> play, std::size_t index) {
    if (index < 2) return std::nullopt;
    const auto from = stance_of(play[index - 2]);
    const auto between = stance_of(play[index - 1]);
    const auto to = stance_of(play[index]);
    if (!from || !between || !to) return std::nullopt;
    return angle_before_depth(from->goalie, between->goalie, to->goalie);
}

void clear_decision(Moment& moment) {
    for (Mark& mark : moment.marks)
        mark.pass.reset();
    moment.set.reset();
    moment.order.reset();
    moment.advice.reset();
    moment.depth_error_m.reset();
    moment.verdict.reset();
}

} // namespace

const Moment* main_moment(std::span<const Moment> play) {
    const auto last = [&](const auto& suits) {
        const auto found = std::find_if(play.rbegin(), play.rend(), suits);
        return found == play.rend() ? nullptr : &*found;
    };
    const Moment* release =
        last([](const Moment& moment) { return is_step(moment) && moment.kind == MomentKind::release; });
    return release ? release : last(is_step);
}

std::optional<NextAction> next_action(const Shot& shot, std::span<const Moment> play, const Moment& moment) {
    if (moment.kind == MomentKind::pass) return NextAction::pass;
    const Moment* about = main_moment(play);
    if (!about || about->id != moment.id || about->ordinal != moment.ordinal) return std::nullopt;
    const bool passed_before = std::ranges::any_of(play, [&](const Moment& other) {
        return is_step(other) && other.kind == MomentKind::pass && other.ordinal < moment.ordinal;
    });
    if (shot.came == NextAction::pass && moment.kind == MomentKind::release && passed_before)
        return NextAction::shot;
    return shot.came;
}

std::optional<AskedMoment> asked_of(const Shot& shot, std::span<const Moment> play, const Moment& moment) {
    const auto stance = stance_of(moment);
    const auto puck = place_of(moment, MarkKind::puck);
    if (!is_step(moment) || !stance || !puck) return std::nullopt;
    AskedMoment asked;
    for (std::size_t index = 0; index < moment.marks.size(); ++index) {
        const Mark& mark = moment.marks[index];
        if (mark.kind != MarkKind::threat || !mark.ice) continue;
        asked.threats.push_back({*mark.ice, mark.one_timer, mark.pass_open});
        asked.marks.push_back(index);
    }
    asked.moment.stance = *stance;
    asked.moment.puck = *puck;
    asked.moment.threats = asked.threats;
    asked.moment.situation = moment.kind == MomentKind::rebound ? Situation::rebound : shot.situation;
    asked.moment.likelihood = likelihood_of(moment.cues);
    asked.moment.next = next_action(shot, play, moment);
    asked.moment.set = moment.set;
    return asked;
}

namespace {

void judge_steps(const Shot& shot, std::vector<Moment>& play, const RuleBook& rules,
                 const Parameters& parameters) {
    for (std::size_t index = 0; index < play.size(); ++index) {
        Moment& moment = play[index];
        clear_decision(moment);
        if (!moment.reading) continue;
        moment.set = stands_still(shot, play, index);
        moment.order = order_at(play, index);
        const auto asked = asked_of(shot, play, moment);
        if (!asked) continue;
        const Decision decision = decide(asked->moment, rules, parameters);
        for (std::size_t threat = 0; threat < asked->marks.size(); ++threat)
            moment.marks[asked->marks[threat]].pass = decision.threats[threat];
        moment.advice = decision.advice;
        moment.depth_error_m = decision.depth_error_m;
        moment.verdict = decision.verdict;
    }
}

} // namespace

void judge(const Shot& shot, std::vector<Moment>& play, const RuleBook& rules, const Parameters& parameters) {
    std::vector<Moment> steps;
    std::vector<std::size_t> from; // where in the play each step stands
    for (std::size_t index = 0; index < play.size(); ++index) {
        if (!is_step(play[index])) {
            clear_decision(play[index]);
            continue;
        }
        from.push_back(index);
        steps.push_back(std::move(play[index]));
    }
    judge_steps(shot, steps, rules, parameters);
    for (std::size_t step = 0; step < steps.size(); ++step)
        play[from[step]] = std::move(steps[step]);
}

} // namespace ropeline
