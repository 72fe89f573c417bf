// The shot list without a window: which shots it shows, in which order, what a cell says, which columns fit.
#pragma once

#include "depth/reason.h"
#include "desk/state/log_state.h"

#include <array>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

std::string_view label_of(ShotColumn column);
std::optional<Detail> detail_in(ShotColumn column);
ShotColumn shot_column(Detail detail);
/// The columns of a season's list, as they stand: those that every list has and the details that its card asks for.
std::vector<ShotColumn> columns_of(const std::set<std::string>& asks);

/// What of the Season side's filter a list of one game has: goalie, team, situation, what came, verdict, goals.
bool in_filter(const LogState& state, const ShotEntry& entry, const FactFilter& filter);
/// The same of the filter: all else of it asks for other games, or for a part of the plan.
FactFilter of_one_game(FactFilter filter);

/// The shots of the game that the filters let through, as indices of `state.shots`, in the order asked for.
/// Filter  words, all of which must begin some word of the shot's goalie, band, read, "read it" or "misread it", verdict,
///         outcome, situation, strength, clock, period ("p2"), "open" when a line of its card is not
///         answered, or "no place on the film yet". Capitals count for nothing.
/// Order   what is not known stands last, whichever way round; equal ones in film order.
std::vector<std::size_t> listed_shots(const LogState& state);

/// The same order by another column: the next one, round and round.
ShotColumn column_after(ShotColumn column, const std::set<std::string>& asks);

/// What stands in the cell; empty when it is not known. A shot without a game clock has its film time.
std::string cell_words(const LogState& state, const ShotEntry& entry, ShotColumn column,
                       LengthUnit unit = LengthUnit::metres);

/// The verdict that counts: the reviewer's, else the model's, on the shot's main moment.
std::optional<Verdict> final_verdict(const ShotEntry& entry);
/// Goalie and puck are marked, but the rink is not known in the frame: nothing can be measured until it is.
bool waits_for_rink(const Moment& moment);
/// One letter for a narrow list: R right depth, O over-challenged, T too far out, S sat back, A off angle, B beaten
/// across, P off the post; "–" when not judged.
std::string_view letter_of(Verdict verdict);
/// A shot was read and a pass came, or the other way round.
bool misread(const Shot& shot);
/// "read it", "misread it": the goalie's call against what came; empty unless a shot or a pass came.
std::string_view call_words(const Shot& shot);
/// The game has a film, and this shot is not on it: brought in from a list, or logged without.
bool has_no_place(const LogState& state, const Shot& shot);

/// The line of the card that a column shows, when it has one.
std::optional<CardField> field_of(ShotColumn column);

struct FittingColumns {
    std::vector<ShotColumn> columns; ///< in the order they stand
    bool short_verdict = false;      ///< only its mark and letter
};
/// As many columns as fit, the ones a coach needs first: number, time, outcome, verdict, read, band, goalie,
/// situation, depth, strength, what the season asks for, note. The verdict gives up its words before a column is given
/// up.
FittingColumns columns_in(float room_px, const std::array<float, shot_columns>& wide_px,
                          float short_verdict_px, const std::set<std::string>& asks);

} // namespace ropeline
