#include "season/words.h"

#include <array>

namespace ropeline {
namespace {

struct Word {
    std::string_view key, label;
};

// In the order of each enumeration.
constexpr std::array<Word, 2> reads = {{{"shot", "shot"}, {"pass", "pass"}}};
constexpr std::array<Word, 4> next_actions = {
    {{"shot", "shot"}, {"pass", "pass"}, {"carry", "keeps it"}, {"none", "nothing came"}}};
constexpr std::array<Word, 3> strengths = {
    {{"even", "even"}, {"power_play", "power play"}, {"short_handed", "short-handed"}}};
constexpr std::array<Word, 7> outcomes = {{{"goal", "goal"},
                                           {"save_held", "save, held"},
                                           {"save_rebound", "save, rebound"},
                                           {"post", "post"},
                                           {"miss", "miss"},
                                           {"block", "block"},
                                           {"no_shot", "no shot"}}};
constexpr std::array<Word, 5> moment_kinds = {{{"entry", "entry"},
                                               {"pass", "pass"},
                                               {"reception", "reception"},
                                               {"release", "release"},
                                               {"rebound", "rebound"}}};
constexpr std::array<Word, 3> surenesses = {
    {{"guess", "a guess"}, {"fairly", "fairly sure"}, {"sure", "sure"}}};
constexpr std::array<Word, 6> mark_kinds = {{{"goalie", "goalie"},
                                             {"skate_left", "left skate"},
                                             {"skate_right", "right skate"},
                                             {"puck", "puck"},
                                             {"threat", "threat"},
                                             {"landmark", "landmark"}}};
constexpr std::array<std::string_view, 6> situation_labels = {"rush",    "zone play", "penalty kill",
                                                              "rebound", "breakaway", "neutral ice"};
constexpr std::array<std::string_view, 2> lane_labels = {"open", "contested"};
constexpr std::array<std::string_view, 4> band_labels = {"defensive", "conservative", "base", "aggressive"};

template <class Enum, std::size_t count>
const Word& word(const std::array<Word, count>& words, Enum value) {
    return words.at(static_cast<std::size_t>(value));
}

template <class Enum, std::size_t count>
std::optional<Enum> find(const std::array<Word, count>& words, std::string_view key) {
    for (std::size_t i = 0; i < count; ++i)
        if (words[i].key == key) return static_cast<Enum>(i);
    return std::nullopt;
}

} // namespace

std::string_view key_of(Sureness value) {
    return word(surenesses, value).key;
}
std::string_view label_of(Sureness value) {
    return word(surenesses, value).label;
}
template <>
std::optional<Sureness> from_key<Sureness>(std::string_view key) {
    return find<Sureness>(surenesses, key);
}
std::string_view key_of(Read value) {
    return word(reads, value).key;
}
std::string_view key_of(Strength value) {
    return word(strengths, value).key;
}
std::string_view key_of(Outcome value) {
    return word(outcomes, value).key;
}
std::string_view key_of(MomentKind value) {
    return word(moment_kinds, value).key;
}
std::string_view key_of(MarkKind value) {
    return word(mark_kinds, value).key;
}
std::string_view key_of(RuleBookId value) {
    return rule_book(value).key;
}

std::string_view label_of(Read value) {
    return word(reads, value).label;
}
std::string_view label_of(NextAction value) {
    return word(next_actions, value).label;
}
std::string_view label_of(Strength value) {
    return word(strengths, value).label;
}
std::string_view label_of(Outcome value) {
    return word(outcomes, value).label;
}
std::string_view label_of(MomentKind value) {
    return word(moment_kinds, value).label;
}
std::string_view label_of(MarkKind value) {
    return word(mark_kinds, value).label;
}
std::string_view label_of(Situation value) {
    return situation_labels.at(static_cast<std::size_t>(value));
}
std::string_view label_of(Lane value) {
    return lane_labels.at(static_cast<std::size_t>(value));
}
std::string_view label_of(Band value) {
    return band_labels.at(static_cast<std::size_t>(value));
}

template <>
std::optional<Read> from_key<Read>(std::string_view key) {
    return find<Read>(reads, key);
}
template <>
std::optional<NextAction> from_key<NextAction>(std::string_view key) {
    return find<NextAction>(next_actions, key);
}
template <>
std::optional<Strength> from_key<Strength>(std::string_view key) {
    return find<Strength>(strengths, key);
}
template <>
std::optional<Outcome> from_key<Outcome>(std::string_view key) {
    return find<Outcome>(outcomes, key);
}
template <>
std::optional<MomentKind> from_key<MomentKind>(std::string_view key) {
    return find<MomentKind>(moment_kinds, key);
}
template <>
std::optional<MarkKind> from_key<MarkKind>(std::string_view key) {
    return find<MarkKind>(mark_kinds, key);
}
template <>
std::optional<Situation> from_key<Situation>(std::string_view key) {
    return situation_from_key(key);
}
template <>
std::optional<Band> from_key<Band>(std::string_view key) {
    return band_from_key(key);
}
template <>
std::optional<Level> from_key<Level>(std::string_view key) {
    return level_from_key(key);
}
template <>
std::optional<Verdict> from_key<Verdict>(std::string_view key) {
    return verdict_from_key(key);
}
template <>
std::optional<Limit> from_key<Limit>(std::string_view key) {
    return limit_from_key(key);
}
template <>
std::optional<ReceiverKind> from_key<ReceiverKind>(std::string_view key) {
    return receiver_kind_from_key(key);
}
template <>
std::optional<Lane> from_key<Lane>(std::string_view key) {
    return lane_from_key(key);
}
template <>
std::optional<CueKind> from_key<CueKind>(std::string_view key) {
    return cue_kind_from_key(key);
}
template <>
std::optional<Likelihood> from_key<Likelihood>(std::string_view key) {
    return likelihood_from_key(key);
}
template <>
std::optional<RuleBookId> from_key<RuleBookId>(std::string_view key) {
    return rule_book_from_key(key);
}

bool is_save(Outcome outcome) {
    return outcome == Outcome::save_held || outcome == Outcome::save_rebound;
}
bool is_shot_on_goal(Outcome outcome) {
    return outcome == Outcome::goal || is_save(outcome);
}

} // namespace ropeline
