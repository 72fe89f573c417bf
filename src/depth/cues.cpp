#include "depth/cues.h"

#include <algorithm>

namespace ropeline {
namespace {

constexpr std::string_view own = "own proposal on common practice, no source";

constexpr std::array<CueFact, 5> known_cues{{
    {"blade", "blade", "closed over the puck, pointing at the net", "open, pointing at a team-mate", 2, own},
    {"eyes", "eyes", "on the net", "on a team-mate", 1, own},
    {"feet", "feet", "set, weight over the shooting leg", "gliding or crossing over", 1, own},
    {"puck_place", "puck", "pulled in, beside the back foot", "out in front, away from the body", 2, own},
    {"away_from_net", "body", "driving the net", "turning away from the net", 2, own},
}};

constexpr std::array<std::string_view, 3> likelihood_keys{"shot", "either", "pass"};
constexpr std::array<std::string_view, 3> likelihood_labels{"likely shot", "either", "likely pass"};
constexpr int decides = 2;

} // namespace

std::span<const CueFact> cue_facts() {
    return known_cues;
}

Likelihood likelihood_of(std::span<const Cue> cues) {
    int for_shot = 0;
    for (const Cue& cue : cues) {
        const int weight = known_cues.at(static_cast<std::size_t>(cue.kind)).weight;
        if (cue.says == Likelihood::shot) for_shot += weight;
        if (cue.says == Likelihood::pass) for_shot -= weight;
    }
    if (for_shot >= decides) return Likelihood::shot;
    return for_shot <= -decides ? Likelihood::pass : Likelihood::either;
}

std::string_view key_of(Likelihood value) {
    return likelihood_keys.at(static_cast<std::size_t>(value));
}
std::string_view key_of(CueKind value) {
    return known_cues.at(static_cast<std::size_t>(value)).key;
}
std::string_view label_of(Likelihood value) {
    return likelihood_labels.at(static_cast<std::size_t>(value));
}
std::optional<Likelihood> likelihood_from_key(std::string_view key) {
    const auto found = std::ranges::find(likelihood_keys, key);
    if (found == likelihood_keys.end()) return std::nullopt;
    return static_cast<Likelihood>(found - likelihood_keys.begin());
}
std::optional<CueKind> cue_kind_from_key(std::string_view key) {
    const auto found = std::ranges::find(known_cues, key, &CueFact::key);
    if (found == known_cues.end()) return std::nullopt;
    return static_cast<CueKind>(found - known_cues.begin());
}

} // namespace ropeline
