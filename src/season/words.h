// What is chosen rather than measured, and the word for each choice.
#pragma once

#include "depth/cues.h"
#include "depth/parameters.h"
#include "depth/reading.h"
#include "depth/verdict.h"
#include "rink/rule_book.h"

#include <optional>
#include <string_view>

namespace ropeline {

enum class Read { shot, pass };                         ///< what the goalie played
enum class Strength { even, power_play, short_handed }; ///< of the goalie's own team
enum class Outcome { goal, save_held, save_rebound, post, miss, block, no_shot };
enum class MomentKind { entry, pass, reception, release, rebound };
enum class Sureness { guess, fairly, sure }; ///< of a read call
enum class MarkKind { goalie, skate_left, skate_right, puck, threat, landmark };

// key_of gives the word stored and printed in JSON ("save_held"); label_of the word a coach reads ("save,
// held").
std::string_view key_of(Read value);
std::string_view key_of(Strength value);
std::string_view key_of(Outcome value);
std::string_view key_of(MomentKind value);
std::string_view key_of(MarkKind value);
std::string_view key_of(Sureness value);
std::string_view key_of(RuleBookId value);
std::string_view label_of(Read value);
std::string_view label_of(NextAction value);
std::string_view label_of(Strength value);
std::string_view label_of(Outcome value);
std::string_view label_of(MomentKind value);
std::string_view label_of(MarkKind value);
std::string_view label_of(Sureness value);
std::string_view label_of(Situation value);
std::string_view label_of(Lane value);
std::string_view label_of(Band value);

/// The value of that key, or nothing: from_key<Outcome>("goal").
template <class Enum>
std::optional<Enum> from_key(std::string_view key);
template <>
std::optional<Read> from_key<Read>(std::string_view key);
template <>
std::optional<NextAction> from_key<NextAction>(std::string_view key);
template <>
std::optional<Strength> from_key<Strength>(std::string_view key);
template <>
std::optional<Outcome> from_key<Outcome>(std::string_view key);
template <>
std::optional<MomentKind> from_key<MomentKind>(std::string_view key);
template <>
std::optional<MarkKind> from_key<MarkKind>(std::string_view key);
template <>
std::optional<Sureness> from_key<Sureness>(std::string_view key);
template <>
std::optional<Situation> from_key<Situation>(std::string_view key);
template <>
std::optional<Band> from_key<Band>(std::string_view key);
template <>
std::optional<Level> from_key<Level>(std::string_view key);
template <>
std::optional<Verdict> from_key<Verdict>(std::string_view key);
template <>
std::optional<Limit> from_key<Limit>(std::string_view key);
template <>
std::optional<ReceiverKind> from_key<ReceiverKind>(std::string_view key);
template <>
std::optional<Lane> from_key<Lane>(std::string_view key);
template <>
std::optional<CueKind> from_key<CueKind>(std::string_view key);
template <>
std::optional<Likelihood> from_key<Likelihood>(std::string_view key);
template <>
std::optional<RuleBookId> from_key<RuleBookId>(std::string_view key);

/// Save: save_held or save_rebound. Shot on goal: a save or a goal (NCAA statisticians' manual 2020-21, sec.
/// 4 art. 2).
bool is_save(Outcome outcome);
bool is_shot_on_goal(Outcome outcome);

} // namespace ropeline
