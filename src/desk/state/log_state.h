// The Log side without a window: the season's records as they stand, and what is open of them. Panels read it;
// only LogBook changes it.
#pragma once

#include "desk/state/card.h"
#include "desk/state/followed_to.h"
#include "desk/state/list_order.h"
#include "desk/state/selection.h"
#include "desk/state/shot_entry.h"
#include "season/records.h"

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace ropeline {

struct Notice {
    std::string text;
    bool trouble = false;
    bool of_log = false; ///< of what was done to a shot, a mark, a fit: for the Log side alone
};

struct LogState {
    std::uint64_t revision = 0; ///< grows with every change, so that what is worked out from it can be kept
    Season season;
    std::vector<Team> teams;
    std::vector<Goalie> goalies;
    std::vector<Game> games;
    Selection selection;
    std::vector<Film> films;            ///< of the game
    std::vector<ClockMark> clock_marks; ///< of all of them, by film, then frame
    std::vector<ShotEntry> shots;       ///< of the game, in film order
    std::vector<StoredFit> fits;      ///< of the film, by frame: clicked, and carried ones with marks on them
    std::vector<StoredCarry> carries; ///< where the clicked ones were carried to
    std::vector<StoredFit> other_fits; ///< of the game's other films
    std::size_t answers = 0;           ///< of the goalies in Study, in the whole season
    Id goalie_id;                      ///< in net for new shots
    ListOrder list;                    ///< of the shots: Up and Down walk along it
    CardField field = CardField::read;
    std::set<std::string> asks;         ///< what the card asks for besides its own lines, by key
    std::vector<std::string> tags;      ///< of the whole season
    std::optional<FollowedTo> followed; ///< the latest
    Notice notice;
    std::map<Id, std::int64_t> left_at; ///< where each film stood
};

// What is open, or null.
const Game* chosen_game(const LogState& state);
const Film* chosen_film(const LogState& state);
const ShotEntry* chosen_shot(const LogState& state);
/// Among LogState::shots.
std::optional<std::size_t> chosen_index(const LogState& state);
/// The moment that is worked on: the one picked among the open shot's, else its main one.
const Moment* moment_in_hand(const LogState& state);
/// The mark of it that the arrow keys nudge.
std::optional<std::size_t> held_mark(const LogState& state);

/// The id of the film on screen, or empty.
const Id& open_film(const LogState& state);
/// 1 for the game's first film; 0 for one that is not of this game.
int film_number(const LogState& state, const Id& film_id);
/// The rule book of the open game, else the season's.
RuleBookId game_rules(const LogState& state);
std::vector<ClockMark> clock_marks_of(const LogState& state, const Id& film_id);
const Goalie* goalie_of(const LogState& state, const Id& id);
std::string team_name(const LogState& state, const Id& id);

} // namespace ropeline
