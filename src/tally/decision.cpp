#include "tally/decision.h"

#include "rink/units.h"

#include <cmath>

namespace ropeline {

CountedDecision decision_of(const ShotFact& fact) {
    if (fact.pass)
        return {fact.pass->band, fact.pass->clearance_m, fact.pass->gave_away,
                fact.pass->overruled ? fact.pass->overruled : fact.pass->verdict};
    return {fact.band, fact.clearance_m, fact.gave_away, fact.overruled ? fact.overruled : fact.verdict};
}

std::optional<NextAction> what_came(const ShotFact& fact) {
    if (fact.came == NextAction::shot || fact.came == NextAction::pass) return fact.came;
    if (fact.came) return std::nullopt;
    const auto released = key_of(fact.details, Detail::released);
    if (fact.pass || released == "off_pass") return NextAction::pass;
    if (released == "carried") return NextAction::shot;
    return std::nullopt;
}

std::optional<bool> was_goal(const ShotFact& fact) {
    if (!fact.outcome || *fact.outcome == Outcome::no_shot || *fact.outcome == Outcome::block)
        return std::nullopt;
    return *fact.outcome == Outcome::goal;
}

bool is_answer_to_depth(Verdict verdict) {
    return verdict != Verdict::not_judged && verdict != Verdict::beaten_across;
}

bool is_further_out(Band band) {
    return band == Band::base || band == Band::aggressive;
}

std::optional<double> shot_distance_m(const ShotFact& fact) {
    if (!fact.puck_at) return std::nullopt;
    return std::hypot(fact.puck_at->x_m, fact.puck_at->y_m);
}

std::optional<double> shot_angle_deg(const ShotFact& fact) {
    if (!fact.puck_at) return std::nullopt;
    return to_degrees(std::atan2(std::abs(fact.puck_at->x_m), fact.puck_at->y_m));
}

int distance_step(const ShotFact& fact) {
    const auto distance = shot_distance_m(fact);
    return !distance ? -1 : *distance < 6.0 ? 0 : *distance < 12.0 ? 1 : 2;
}

} // namespace ropeline
