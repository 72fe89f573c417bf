#include "tally/coming_out.h"

#include "tally/decision.h"

#include <cmath>
#include <map>
#include <tuple>
#include <vector>

namespace ropeline {
namespace {

DepthAnswer answer_of(const Interval& interval) {
    if (interval.high < 0.0) return DepthAnswer::fewer;
    if (interval.low > 0.0) return DepthAnswer::more;
    const bool narrow = interval.low > -worth_acting_on && interval.high < worth_acting_on;
    return narrow ? DepthAnswer::no_matter : DepthAnswer::not_enough;
}

} // namespace

ComingOut coming_out(std::span<const ShotFact> facts, NextAction came) {
    ComingOut made;
    made.came = came;
    std::map<std::tuple<Id, int, int>, Layer> like;
    for (const ShotFact& fact : facts) {
        const auto goal = was_goal(fact);
        const auto band = decision_of(fact).band;
        if (!goal || !band || what_came(fact) != came) continue;
        const int situation = fact.situation ? static_cast<int>(*fact.situation) : -1;
        const int distance = came == NextAction::shot ? distance_step(fact) : 0;
        Layer& layer = like[{fact.goalie_id, situation, distance}];
        const bool out = is_further_out(*band);
        add_to(out ? layer.first : layer.second, *goal);
        add_to(out ? made.out : made.inside, *goal);
    }
    if (made.out.of > 0 && made.inside.of > 0) made.plain = newcombe_difference(made.out, made.inside);
    std::vector<Layer> layers;
    for (const auto& [key, layer] : like)
        layers.push_back(layer);
    made.within_like_plays = mantel_haenszel_difference(layers);
    if (!made.within_like_plays) return made;
    const Interval& interval = made.within_like_plays->interval;
    made.answer = answer_of(interval);
    // The interval shrinks with the root of the count.
    const double ratio = 0.5 * (interval.high - interval.low) / worth_acting_on;
    made.attempts_needed =
        10 * static_cast<int>(std::ceil((made.out.of + made.inside.of) * ratio * ratio / 10.0));
    return made;
}

} // namespace ropeline
