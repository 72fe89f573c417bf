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

/// Seconds between two moments of a film; nothing for moments of two films.
std::optional<double> seconds_between(const Shot& shot, const Moment& from, const Moment& to) {
    const auto tick = tick_s(shot);
    if (!tick || from.film_id != to.film_id) return std::nullopt;
    return *tick * static_cast<double>(to.pts_ticks - from.pts_ticks);
}

/// Standing still at the release, from the moment before it when that is near enough to tell.
std::optional<bool> stands_still(const Shot& shot, std::span<const Moment> play, std::size_t index) {
    if (index == 0 || play[index].kind != MomentKind::release) return std::nullopt;
    const auto seconds = seconds_between(shot, play[index - 1], play[index]);
    const auto from = stance_of(play[index - 1]);
    const auto to = stance_of(play[index]);
    if (!from || !to || !seconds) return std::nullopt;
    return set_at(from->goalie, to->goalie, *seconds);
}

/// Where the goalie stood at the step before; nothing for a first one.
std::optional<Before> before_of(const Shot& shot, std::span<const Moment> play, const Moment& moment) {
    const Moment* last = nullptr;
    for (const Moment& other : play) {
        if (!is_step(other) || other.id == moment.id || other.ordinal >= moment.ordinal) continue;
        if (!last || other.ordinal > last->ordinal) last = &other;
    }
    if (!last) return std::nullopt;
    const auto stance = stance_of(*last);
    const auto seconds = seconds_between(shot, *last, moment);
    if (!stance || !seconds || *seconds < 0.0) return std::nullopt;
    return Before{stance->goalie, *seconds};
}

/// The marks' covariances side by side; empty when one has none. What a rink fit makes them share is left out.
std::vector<double> spread_of(const std::vector<const Mark*>& marks) {
    const std::size_t size = 2 * marks.size();
    std::vector<double> spread(size * size, 0.0);
    for (std::size_t i = 0; i < marks.size(); ++i) {
        if (!marks[i]->sigma) return {};
        double* block = spread.data() + 2 * i * size + 2 * i;
        block[0] = marks[i]->sigma->xx;
        block[1] = block[size] = marks[i]->sigma->xy;
        block[size + 1] = marks[i]->sigma->yy;
    }
    return spread;
}

std::vector<double> spread_of(const Moment& moment, const AskedMoment& asked) {
    const auto find = [&](MarkKind kind) { return &*std::ranges::find(moment.marks, kind, &Mark::kind); };
    std::vector<const Mark*> marks;
    if (asked.moment.stance.skates) {
        marks = {find(MarkKind::skate_left), find(MarkKind::skate_right)};
    } else {
        marks = {find(MarkKind::goalie)};
    }
    marks.push_back(find(MarkKind::puck));
    for (const std::size_t index : asked.marks)
        marks.push_back(&moment.marks[index]);
    return spread_of(marks);
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
    moment.judgement.reset();
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
        asked.threats.push_back({*mark.ice, mark.receiver, mark.lane, mark.took});
        asked.marks.push_back(index);
    }
    asked.moment.stance = *stance;
    asked.moment.puck = *puck;
    asked.moment.threats = asked.threats;
    asked.moment.situation = moment.kind == MomentKind::rebound ? Situation::rebound : shot.situation;
    asked.moment.likelihood = likelihood_of(moment.cues);
    asked.moment.sight = sight_from_key(key_of(moment.details, Detail::sight)).value_or(Sight::clear);
    asked.moment.next = next_action(shot, play, moment);
    asked.moment.before = before_of(shot, play, moment);
    const std::string_view feet = key_of(moment.details, Detail::feet); // the coach's word comes first
    asked.moment.set = feet.empty() ? moment.set : std::optional{feet == "set"};
    asked.spread = spread_of(moment, asked);
    return asked;
}

namespace {

/// Metres beyond the stretch; within it 0.
double beyond_m(const Advice& advice, double out_m) {
    return std::max(out_m - advice.to_m, 0.0) + std::min(out_m - advice.from_m, 0.0);
}

Judgement judgement_of(const Decision& decision) {
    Judgement judgement;
    judgement.verdict = decision.verdict;
    judgement.on_post = decision.on_post;
    judgement.advice = decision.advice;
    if (decision.advice) judgement.depth_error_m = beyond_m(*decision.advice, decision.reading.depth_m);
    judgement.shot_open = decision.shot_open;
    judgement.net_left = decision.left;
    judgement.on_what_came = decision.on_what_came;
    return judgement;
}

/// What firmness rests on has not changed as far as the figures tell.
bool same_decision(const Judgement& one, const Judgement& other) {
    return one.verdict == other.verdict && one.advice == other.advice && one.net_left == other.net_left &&
           one.shot_open == other.shot_open;
}

void judge_steps(const Shot& shot, std::vector<Moment>& play, const RuleBook& rules,
                 const Parameters& parameters) {
    for (std::size_t index = 0; index < play.size(); ++index) {
        Moment& moment = play[index];
        const std::optional<Judgement> before = moment.judgement;
        clear_decision(moment);
        if (!moment.reading) continue;
        moment.set = stands_still(shot, play, index);
        moment.order = order_at(play, index);
        const auto asked = asked_of(shot, play, moment);
        if (!asked) continue;
        const Decision decision = decide(asked->moment, rules, parameters);
        for (std::size_t threat = 0; threat < asked->marks.size(); ++threat)
            moment.marks[asked->marks[threat]].pass = decision.threats[threat];
        moment.judgement = judgement_of(decision);
        if (before && same_decision(*before, *moment.judgement))
            moment.judgement->firmness = before->firmness;
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

void find_firmness(const Shot& shot, std::vector<Moment>& play, const RuleBook& rules,
                   const Parameters& parameters, Level level) {
    for (Moment& moment : play) {
        if (!moment.judgement || moment.judgement->firmness) continue;
        const auto asked = asked_of(shot, play, moment);
        if (!asked) continue;
        moment.judgement->firmness =
            firmness_of(asked->moment, rules, parameters, level, moment.id, asked->spread);
    }
}

} // namespace ropeline
