// The strip of keys at the foot of the desk: what a coach is likely to want where he is.
#pragma once

#include "desk/state/keys.h"

#include <optional>
#include <string>
#include <vector>

namespace ropeline {

/// What the coach is at.
enum class KeyStrip {
    film,       ///< the film, and no shot open
    shot,       ///< a shot's card
    fit,        ///< fitting the rink
    proposal,   ///< the same, and a fit is proposed
    whole_list, ///< the shot list on the whole page
    scorer_list,
    study, ///< a decision before its answer
    study_answer,
    study_list,
};

struct StripKey {
    std::string chord, label;
    std::optional<Command> command{}; ///< what a click on it does
    int number = 0;                   ///< or the number key that it stands for; 0: none
};
/// The keys in force, the most wanted first.
std::vector<StripKey> strip_keys(KeyStrip strip);

/// The same as the commands behind it, without the numbers that choose: each is valid at `place`.
struct StripRow {
    Command command{};
    std::string_view label; ///< empty: the next key says it
};
std::vector<StripRow> strip_rows(KeyStrip strip);
Place place_of(KeyStrip strip);

} // namespace ropeline
