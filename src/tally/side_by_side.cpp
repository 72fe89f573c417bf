#include "tally/side_by_side.h"

#include "tally/band_table.h"
#include "tally/decision.h"

#include <map>
#include <tuple>
#include <vector>

namespace ropeline {
namespace {

using LikePlays = std::map<std::tuple<int, int, int>, Layer>;

template <class Value>
int code_of(const std::optional<Value>& value) {
    return value ? static_cast<int>(*value) : -1;
}

void add_all(SideBySide& made, LikePlays& like, std::span<const ShotFact> facts, Share Layer::*side,
             Share ComparedShare::*share) {
    for (const ShotFact& fact : facts) {
        if (const auto goal = was_goal(fact)) {
            add_to(made.goals.*share, *goal);
            Layer& layer =
                like[{code_of(fact.situation), code_of(what_came(fact)), distance_step(fact.puck_at)}];
            add_to(layer.*side, *goal);
        }
        const auto verdict = decision_of(fact).verdict;
        if (verdict && is_answer_to_depth(*verdict))
            add_to(made.right_depth.*share, *verdict == Verdict::right_depth);
        if (const auto right = read_it(fact.read, fact.came)) add_to(made.read_it.*share, *right);
    }
}

} // namespace

SideBySide side_by_side(std::span<const ShotFact> first, std::span<const ShotFact> second) {
    SideBySide made;
    LikePlays like;
    add_all(made, like, first, &Layer::first, &ComparedShare::first);
    add_all(made, like, second, &Layer::second, &ComparedShare::second);
    for (ComparedShare* one : {&made.goals, &made.right_depth, &made.read_it})
        if (one->first.of > 0 && one->second.of > 0)
            one->plain = newcombe_difference(one->first, one->second);
    std::vector<Layer> layers;
    for (const auto& [key, layer] : like)
        layers.push_back(layer);
    made.goals.within_like_plays = mantel_haenszel_difference(layers);
    return made;
}

} // namespace ropeline
