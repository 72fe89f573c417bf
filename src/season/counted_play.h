// What a shot counts as in a summary: the little of its facts that the first sentence and the tables by band look at. A season
// keeps it of every shot (schema/README.md, counted_shot), so that five million are summed up without working their facts out.
#pragma once

#include "season/records.h"

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

struct CountedPlay {
    std::optional<Outcome> outcome;
    std::optional<NextAction> came; ///< as it was logged
    int released = 0;               ///< the choice of Detail::released
    std::optional<Read> read;
    std::optional<Situation> situation;
    int distance_step = -1; ///< see distance_step()
    std::optional<Band> band;
    std::optional<Verdict> verdict, overruled;
    struct Pass {
        Band band{};
        std::optional<Verdict> verdict, overruled;

        bool operator==(const Pass&) const = default;
    };
    std::optional<Pass> pass; ///< the decision when the pass was made

    bool operator==(const CountedPlay&) const = default;
};

CountedPlay counted_play(const ShotFact& fact);

/// How far off the middle of the net the puck was shot, for like plays: 0 under 6 m, 1 under 12 m, 2 beyond, -1 without a place.
int distance_step(const std::optional<IcePoint>& puck);

struct CountedGoalie {
    Id id; ///< empty: nobody is named
    std::string name, team;
};

/// Shots that count alike, together.
struct CountedShots {
    struct Row {
        std::size_t goalie = 0; ///< in `goalies`
        CountedPlay play;
        int times = 0;
    };
    std::vector<CountedGoalie> goalies; ///< that have one
    std::vector<Row> rows;
    int shots = 0, games = 0; ///< games: with one of them
};

/// Which shots are wanted; a question left out asks for all.
struct CountedOnly {
    std::function<bool(std::string_view date)> day{};
    std::function<bool(const CountedGoalie&, const CountedPlay&)> shot{};
};

} // namespace ropeline
