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

/// In   each: hands every play to what it is given, with its goalie and how many there are.
template <class EachPlay>
ComingOut counted(NextAction came, EachPlay each) {
    ComingOut made;
    made.came = came;
    std::map<std::tuple<Id, int, int>, Layer> like;
    each([&](const Id& goalie_id, const CountedPlay& play, int times) {
        const auto goal = was_goal(play.outcome);
        const auto band = play.pass ? std::optional{play.pass->band} : play.band;
        if (!goal || !band || what_came(play) != came) return;
        const int situation = play.situation ? static_cast<int>(*play.situation) : -1;
        const int distance = came == NextAction::shot ? play.distance_step : 0;
        Layer& layer = like[{goalie_id, situation, distance}];
        const bool out = is_further_out(*band);
        for (Share* share : {out ? &layer.first : &layer.second, out ? &made.out : &made.inside}) {
            share->hits += *goal ? times : 0;
            share->of += times;
        }
    });
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

} // namespace

ComingOut coming_out(std::span<const ShotFact> facts, NextAction came) {
    return counted(came, [&](const auto& add) {
        for (const ShotFact& fact : facts)
            add(fact.goalie_id, counted_play(fact), 1);
    });
}

ComingOut coming_out(const CountedShots& shots, NextAction came) {
    return counted(came, [&](const auto& add) {
        for (const auto& [goalie, play, times] : shots.rows)
            add(shots.goalies[goalie].id, play, times);
    });
}

} // namespace ropeline
