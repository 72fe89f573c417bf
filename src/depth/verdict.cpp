#include "depth/verdict.h"

#include "depth/coverage.h"
#include "depth/on_post.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {
namespace {

struct VerdictWord {
    std::string_view key, label;
};
constexpr std::array<VerdictWord, 8> words{{{"right_depth", "right depth"},
                                            {"over_challenged", "over-challenged"},
                                            {"too_far_out", "too far out"},
                                            {"sat_back", "sat back"},
                                            {"off_angle", "off angle"},
                                            {"beaten_across", "beaten across"},
                                            {"off_the_post", "off the post"},
                                            {"not_judged", "not judged"}}};

constexpr std::array<std::string_view, 4> next_keys{"shot", "pass", "carry", "none"};

bool known(IcePoint at) {
    return std::isfinite(at.x_m) && std::isfinite(at.y_m);
}
bool known(const MarkedMoment& moment) {
    const bool before =
        !moment.before || (known(moment.before->goalie) && !std::isnan(moment.before->seconds));
    return known(moment.stance.goalie) && known(moment.puck) && before &&
           std::ranges::all_of(moment.threats, [](const Threat& threat) { return known(threat.at); });
}

WithinReach within_reach(const Before& before, IcePoint line, const Parameters& parameters) {
    WithinReach reach;
    reach.push_m = parameters.lateral_speed_mps * std::max(0.0, before.seconds - parameters.see_s);
    reach.beside_m = std::abs(cross(line, before.goalie));
    reach.line = reach.beside_m <= reach.push_m;
    reach.furthest_m = std::max(0.0, dot(before.goalie, line) + std::max(0.0, reach.push_m - reach.beside_m));
    return reach;
}

/// What his depth costs against D_best, on the line, and the passes' part of it.
/// Out     whether that, and what he gave away where he stands, is worth acting on.
bool weigh_depth(const Play& play, IcePoint goalie, double worth, Decision& decision) {
    const IcePoint here = play.shooter.line * decision.reading.depth_m;
    const IcePoint best = play.shooter.line * decision.advice->best_m;
    const double shot_cost = play.shot_chance * (shot_open(play, here) - shot_open(play, best));
    decision.cost = net_left(play, here) - decision.advice->left_best;
    decision.pass_cost = decision.cost - shot_cost;
    return decision.cost > worth && net_left(play, goalie) - decision.advice->left_best > worth;
}

/// The verdict on the depth alone; none when it is not to blame.
std::optional<Verdict> blame_depth(const MarkedMoment& moment, const Play& play, const RuleBook& rules,
                                   const Parameters& parameters, Decision& decision) {
    const double out_m = decision.reading.depth_m, tolerance = parameters.depth_tolerance_m;
    const bool further = out_m > decision.advice->to_m + tolerance;
    if (!further && out_m >= decision.advice->from_m - tolerance) return std::nullopt;
    const bool dear = weigh_depth(play, moment.stance.goalie, parameters.worth, decision);
    if (!further) return dear ? std::optional{Verdict::sat_back} : std::nullopt;
    if (dear && decision.pass_cost > decision.cost / 2.0) return Verdict::over_challenged;
    const Furthest furthest = furthest_out(play_marks(moment), play, rules, parameters);
    return dear || out_m > furthest.allowed_m + tolerance ? std::optional{Verdict::too_far_out}
                                                          : std::nullopt;
}

/// The advice, what was within reach, the verdict; what the two ways of asking share.
void judge(const MarkedMoment& moment, const Play& play, const RuleBook& rules, const Parameters& parameters,
           Decision& decision) {
    decision.on_post = on_post_play(moment.puck, rules, parameters);
    if (decision.on_post) {
        decision.at_post = at_post(moment.stance.goalie, moment.puck, rules);
        decision.verdict = decision.at_post ? Verdict::right_depth : Verdict::off_the_post;
        return;
    }
    decision.advice = advise(play_marks(moment), play, rules, parameters);
    Advice& advice = *decision.advice;
    if (moment.before) {
        decision.within_reach = within_reach(*moment.before, play.shooter.line, parameters);
        advice.from_m = std::min(advice.from_m, decision.within_reach->furthest_m);
    }
    const auto blamed = blame_depth(moment, play, rules, parameters, decision);
    decision.verdict = blamed.value_or(Verdict::right_depth);
    if (blamed && blamed != Verdict::sat_back) return;
    decision.opened = opened_off_line(moment.stance.goalie, moment.puck, rules, parameters);
    if (!blamed && decision.opened && decision.opened->length_m > parameters.angle_tolerance_m)
        decision.verdict = Verdict::off_angle;
    if (decision.verdict != Verdict::right_depth && decision.within_reach && !decision.within_reach->line)
        decision.verdict = Verdict::beaten_across;
}

std::optional<OnWhatCame> on_what_came(const MarkedMoment& moment, const Play& play,
                                       const Decision& decision) {
    if (!decision.advice || !moment.next) return std::nullopt;
    const IcePoint best = play.shooter.line * decision.advice->best_m;
    const auto taker = std::ranges::find(moment.threats, true, &Threat::took);
    const bool tipped = taker != moment.threats.end() && taker->kind == ReceiverKind::tip;
    if (moment.next == NextAction::shot && !tipped)
        return OnWhatCame{decision.shot_open, shot_open(play, best), std::nullopt};
    if (taker == moment.threats.end() || (moment.next != NextAction::pass && !tipped)) return std::nullopt;
    const auto index = static_cast<std::size_t>(taker - moment.threats.begin());
    return OnWhatCame{decision.threats.at(index).open_on_arrival,
                      open_after_push(play.threats.at(index), best, play.blocking), index};
}

} // namespace

PlayMarks play_marks(const MarkedMoment& moment) {
    return {moment.puck, moment.threats, moment.situation, moment.likelihood, moment.sight};
}

std::optional<Opened> opened_off_line(IcePoint goalie, IcePoint puck, const RuleBook& rules,
                                      const Parameters& parameters) {
    const IcePoint on_line = puck_line(puck) * std::max(depth_m(goalie, puck), 0.0);
    const auto here = open_at_posts(stance_from_mark(goalie), puck, rules, parameters.block_width_m);
    const auto there = open_at_posts(stance_from_mark(on_line), puck, rules, parameters.block_width_m);
    if (!here || !there) return std::nullopt;
    const double left_m = here->left_m - there->left_m, right_m = here->right_m - there->right_m;
    return Opened{std::max({left_m, right_m, 0.0}), left_m > right_m};
}

Decision decide(const MarkedMoment& moment, const RuleBook& rules, const Parameters& parameters) {
    Decision decision;
    decision.reading = read_moment(moment.stance, moment.puck, rules, parameters);
    if (!known(moment)) return decision;
    const Play play = play_of(play_marks(moment), rules, parameters);
    judge(moment, play, rules, parameters, decision);
    const IcePoint goalie = moment.stance.goalie;
    if (!decision.opened) decision.opened = opened_off_line(goalie, moment.puck, rules, parameters);
    decision.shot_open = shot_open(play, goalie);
    decision.left = play.shot_chance * decision.shot_open;
    decision.threats.reserve(play.marked);
    for (std::size_t i = 0; i < play.threats.size(); ++i) {
        ThreatReading pass = read_threat(play.threats[i], goalie, play.blocking);
        pass.chance = play.chances[i];
        decision.left += play.chances[i] * pass.open_on_arrival;
        if (i < play.marked) decision.threats.push_back(pass);
    }
    if (decision.advice) decision.gave_away = decision.left - decision.advice->left_best;
    decision.on_what_came = on_what_came(moment, play, decision);
    return decision;
}

Verdict verdict_of(const MarkedMoment& moment, const RuleBook& rules, const Parameters& parameters) {
    if (!known(moment)) return Verdict::not_judged;
    Decision decision;
    decision.reading.depth_m = depth_m(moment.stance.goalie, moment.puck);
    judge(moment, play_of(play_marks(moment), rules, parameters), rules, parameters, decision);
    return decision.verdict;
}

std::string_view key_of(Verdict value) {
    return words.at(static_cast<std::size_t>(value)).key;
}
std::string_view label_of(Verdict value) {
    return words.at(static_cast<std::size_t>(value)).label;
}
std::optional<Verdict> verdict_from_key(std::string_view key) {
    const auto found = std::ranges::find(words, key, &VerdictWord::key);
    if (found == words.end()) return std::nullopt;
    return static_cast<Verdict>(found - words.begin());
}
std::string_view key_of(NextAction value) {
    return next_keys.at(static_cast<std::size_t>(value));
}
std::optional<NextAction> next_action_from_key(std::string_view key) {
    const auto found = std::ranges::find(next_keys, key);
    if (found == next_keys.end()) return std::nullopt;
    return static_cast<NextAction>(found - next_keys.begin());
}

} // namespace ropeline
