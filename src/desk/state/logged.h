// What a coach may log beside the card's own lines: which of it the season asks for, and its words.
#pragma once

#include "desk/state/shot_entry.h"

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

/// What is typed for a shot rather than chosen.
enum class ShotText { tags, drill, shooter_number };
constexpr int shot_texts = 3;

struct AskFact {
    std::string_view key, label;
};
const AskFact& fact_of(ShotText field);
/// All that a season may switch on: the details in their order, then what is typed.
std::vector<AskFact> askable();

/// The place in the net where the puck went, as the choice of Detail::net_place that it is.
/// In      shares of the mouth as the shooter sees it: `across` from its left post, `up` from the ice; `catches` of the
///         goalie: the glove of one who catches left, and of one not known, is on the shooter's right.
int net_place_at(double across, double up, std::string_view catches);

std::string written(const Shot& shot, ShotText field);
/// "glove high, scramble ,glove high" as tags: trimmed, each once, in order.
std::vector<std::string> tags_in(std::string_view text);
/// The text with its last tag completed to the first known one that begins so; capitals do not matter.
std::string completed_tags(const std::vector<std::string>& known, const std::string& text);

/// All of it that is known of the shot, for the list's filter.
std::string logged_words(const ShotEntry& entry);

} // namespace ropeline
