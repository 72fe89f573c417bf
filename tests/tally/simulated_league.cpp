#include "tally/simulated_league.h"

#include "rink/units.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline::simulated {
namespace {

struct Habit {
    Situation situation;
    double often, passed, out, danger; ///< shares; danger in log odds
};
// Out where it is dangerous anyway (rush, breakaway), inside on rebounds and penalty kills.
constexpr std::array habits = {
    Habit{Situation::rush, 0.25, 0.40, 0.75, -2.0}, Habit{Situation::zone, 0.40, 0.30, 0.40, -2.9},
    Habit{Situation::penalty_kill, 0.17, 0.45, 0.25, -2.2}, Habit{Situation::rebound, 0.10, 0.15, 0.15, -1.2},
    Habit{Situation::breakaway, 0.08, 0.08, 0.85, -0.6}};

const Habit& any_habit(std::mt19937_64& random) {
    double rest = uniform(random);
    for (const Habit& habit : habits)
        if ((rest -= habit.often) < 0.0) return habit;
    return habits.back();
}

double chance_of(double odds) {
    return 1.0 / (1.0 + std::exp(-odds));
}

void stand(ShotFact& fact, bool passed, bool out, std::mt19937_64& random) {
    const double clearance = out ? -0.28 + 1.2 * uniform(random) : -1.4 + 1.1 * uniform(random);
    const Band band = clearance > 0.3     ? Band::aggressive
                      : out               ? Band::base
                      : clearance < -1.25 ? Band::defensive
                                          : Band::conservative;
    fact.crease_edge_m = 1.8;
    fact.clearance_m = clearance;
    fact.depth_m = 1.8 + clearance;
    fact.band = band;
    fact.gave_away = std::max(0.0, 0.03 + 0.03 * normal(random));
    fact.verdict = *fact.gave_away < 0.03 ? Verdict::right_depth
                   : out                  ? Verdict::over_challenged
                                          : Verdict::sat_back;
    if (!passed) return;
    fact.pass.emplace();
    fact.pass->depth_m = *fact.depth_m;
    fact.pass->clearance_m = clearance;
    fact.pass->band = band;
    fact.pass->gave_away = fact.gave_away;
    fact.pass->verdict = fact.verdict;
    fact.band = Band::conservative; // where the release found him says nothing of the decision
    fact.clearance_m = -0.6;
    fact.depth_m = 1.2;
}

void aim(ShotFact& fact, double distance_m, std::mt19937_64& random) {
    const double angle = 1.2 * (uniform(random) - 0.5);
    fact.puck_at = IcePoint{distance_m * std::sin(angle), distance_m * std::cos(angle)};
    fact.net_angle_rad = 2.0 * std::atan(0.9144 * std::cos(angle) / distance_m);
    fact.off_angle_m = 0.15 * normal(random);
}

} // namespace

double uniform(std::mt19937_64& random) {
    return static_cast<double>(random() >> 11) * 0x1p-53;
}

bool happens(double chance, std::mt19937_64& random) {
    return uniform(random) < chance;
}

int whole(int from, int to, std::mt19937_64& random) {
    return from + static_cast<int>(uniform(random) * (to - from + 1));
}

double normal(std::mt19937_64& random) {
    return std::sqrt(-2.0 * std::log(1.0 - uniform(random))) * std::cos(2.0 * pi * uniform(random));
}

std::vector<ShotFact> season(const League& league, std::mt19937_64& random) {
    std::vector<double> skill;
    for (int i = 0; i < league.goalies; ++i)
        skill.push_back(0.2 * normal(random));
    std::vector<ShotFact> facts;
    for (int i = 0; i < league.attempts; ++i) {
        const int goalie = whole(0, league.goalies - 1, random), game = league.games * i / league.attempts;
        const Habit& habit = any_habit(random);
        const double distance =
            habit.situation == Situation::rebound || habit.situation == Situation::breakaway
                ? 2.0 + 5.0 * uniform(random)
                : 3.0 + 15.0 * uniform(random);
        const bool passed = happens(habit.passed, random);
        const bool out = happens(std::min(0.95, habit.out + 0.012 * (distance - 8.0)), random);
        ShotFact fact;
        fact.shot_id = fmt::format("shot {}", i);
        fact.goalie_id = fmt::format("goalie {}", goalie);
        fact.goalie = fmt::format("Goalie {}", goalie + 1);
        fact.team = "Saltmarsh Herons";
        fact.game_id = fmt::format("game {:03}", game);
        fact.game_date = fmt::format("2026-{:02}-{:02}", 1 + game / 28 % 12, 1 + game % 28);
        fact.situation = habit.situation;
        fact.came = passed ? NextAction::pass : NextAction::shot;
        stand(fact, passed, out, random);
        aim(fact, distance, random);
        const double odds = habit.danger - 0.06 * (distance - 8.0) + skill[static_cast<std::size_t>(goalie)] +
                            (passed ? 0.3 : 0.0) +
                            (out ? (passed ? league.on_passes : league.on_clear_shots) : 0.0);
        fact.outcome = happens(chance_of(odds), random) ? Outcome::goal
                       : happens(0.25, random)          ? Outcome::miss
                                                        : Outcome::save_held;
        facts.push_back(std::move(fact));
    }
    return facts;
}

} // namespace ropeline::simulated
