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

std::optional<NextAction> what_came(const CountedPlay& play) {
    if (play.came == NextAction::shot || play.came == NextAction::pass) return play.came;
    if (play.came) return std::nullopt;
    Details details;
    details.set(Detail::released, play.released);
    const auto released = key_of(details, Detail::released);
    if (play.pass || released == "off_pass") return NextAction::pass;
    if (released == "carried") return NextAction::shot;
    return std::nullopt;
}

std::optional<NextAction> what_came(const ShotFact& fact) {
    return what_came(counted_play(fact));
}

std::optional<bool> was_goal(const std::optional<Outcome>& outcome) {
    if (!outcome || *outcome == Outcome::no_shot || *outcome == Outcome::block) return std::nullopt;
    return *outcome == Outcome::goal;
}

std::optional<bool> was_goal(const ShotFact& fact) {
    return was_goal(fact.outcome);
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

} // namespace ropeline
