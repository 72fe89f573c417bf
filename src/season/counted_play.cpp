#include "season/counted_play.h"

namespace ropeline {

// By squares, as the season file works it out, so that both say the same of a puck on the edge.
int distance_step(const std::optional<IcePoint>& puck) {
    if (!puck) return -1;
    const double squared_m2 = puck->x_m * puck->x_m + puck->y_m * puck->y_m;
    return (squared_m2 >= 6.0 * 6.0 ? 1 : 0) + (squared_m2 >= 12.0 * 12.0 ? 1 : 0);
}

CountedPlay counted_play(const ShotFact& fact) {
    CountedPlay play{fact.outcome,
                     fact.came,
                     fact.details.of(Detail::released),
                     fact.read,
                     fact.situation,
                     distance_step(fact.puck_at),
                     fact.band,
                     fact.verdict,
                     fact.overruled,
                     {}};
    if (fact.pass) play.pass = {fact.pass->band, fact.pass->verdict, fact.pass->overruled};
    return play;
}

} // namespace ropeline
