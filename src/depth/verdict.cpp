#include "depth/verdict.h"

#include "depth/coverage.h"

#include <algorithm>
#include <array>

namespace ropeline {
namespace {

struct Word {
    std::string_view key, label;
};
constexpr std::array<Word, 6> words{{{"right_read", "right read"},
                                     {"over_challenged", "over-challenged"},
                                     {"sat_back", "sat back"},
                                     {"off_angle", "off angle"},
                                     {"late", "late"},
                                     {"not_judged", "not judged"}}};

constexpr std::array<std::string_view, 4> next_keys{"shot", "pass", "carry", "none"};

Verdict on_shot(const MarkedMoment& moment, const Decision& decision, const Parameters& parameters) {
    if (decision.depth_error_m < -parameters.depth_tolerance_m) return Verdict::sat_back;
    if (!decision.opened_m || !(*decision.opened_m > parameters.angle_tolerance_m))
        return Verdict::right_read;
    return moment.set == false ? Verdict::late : Verdict::off_angle;
}

/// The pass with the least margin among those that could be reached from the advised depth; where none could,
/// among all.
std::optional<std::size_t> tightest(const Decision& decision) {
    std::optional<std::size_t> least;
    const auto reachable = [&](const ThreatReading& threat) {
        return !threat.reach_depth_m || *threat.reach_depth_m >= decision.advice.depth_m;
    };
    for (std::size_t i = 0; i < decision.threats.size(); ++i) {
        if (!least) {
            least = i;
            continue;
        }
        const ThreatReading& now = decision.threats[i];
        const ThreatReading& before = decision.threats[*least];
        if (reachable(now) != reachable(before)) {
            if (reachable(now)) least = i;
        } else if (now.margin_s < before.margin_s) {
            least = i;
        }
    }
    return least;
}

Verdict on_pass(const Decision& decision) {
    if (!decision.threat) return Verdict::not_judged;
    const ThreatReading& pass = decision.threats[*decision.threat];
    const bool reachable = !pass.reach_depth_m || *pass.reach_depth_m >= decision.advice.depth_m;
    if (!reachable || pass.margin_s >= 0.0) return Verdict::right_read;
    return decision.depth_error_m > 0.0 ? Verdict::over_challenged : Verdict::off_angle;
}

} // namespace

std::optional<double> opened_off_line_m(IcePoint goalie, IcePoint puck, const RuleBook& rules,
                                        const Parameters& parameters) {
    const IcePoint on_line = puck_line(puck) * std::max(depth_m(goalie, puck), 0.0);
    const auto here = open_at_posts(stance_from_mark(goalie), puck, rules, parameters.block_width_m);
    const auto there = open_at_posts(stance_from_mark(on_line), puck, rules, parameters.block_width_m);
    if (!here || !there) return std::nullopt;
    return std::max({here->left_m - there->left_m, here->right_m - there->right_m, 0.0});
}

Decision decide(const MarkedMoment& moment, const RuleBook& rules, const Parameters& parameters) {
    Decision decision;
    decision.reading = read_moment(moment.stance, moment.puck, rules, parameters);
    decision.threats.reserve(moment.threats.size());
    for (const Threat& threat : moment.threats)
        decision.threats.push_back(read_threat(threat, moment.stance.goalie, moment.puck, rules, parameters));
    decision.advice =
        advise(moment.puck, moment.threats, moment.situation, moment.likelihood, rules, parameters);
    decision.depth_error_m = decision.reading.depth_m - decision.advice.depth_m;
    decision.threat = tightest(decision);
    if (moment.next == NextAction::shot) {
        decision.opened_m = opened_off_line_m(moment.stance.goalie, moment.puck, rules, parameters);
        decision.verdict = on_shot(moment, decision, parameters);
    } else if (moment.next == NextAction::pass) {
        decision.verdict = on_pass(decision);
    }
    return decision;
}

std::string_view key_of(Verdict value) {
    return words.at(static_cast<std::size_t>(value)).key;
}
std::string_view label_of(Verdict value) {
    return words.at(static_cast<std::size_t>(value)).label;
}
std::optional<Verdict> verdict_from_key(std::string_view key) {
    const auto found = std::ranges::find(words, key, &Word::key);
    if (found == words.end()) return std::nullopt;
    return static_cast<Verdict>(found - words.begin());
}
std::optional<NextAction> next_action_from_key(std::string_view key) {
    const auto found = std::ranges::find(next_keys, key);
    if (found == next_keys.end()) return std::nullopt;
    return static_cast<NextAction>(found - next_keys.begin());
}

} // namespace ropeline
