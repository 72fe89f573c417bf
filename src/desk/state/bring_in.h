// A scorer's list against the open game: which of its rows come in, where on the film they are, which are
// there already, and which cannot be taken. Pure.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_state.h"

#include <map>
#include <string>
#include <vector>

namespace ropeline {

/// The open film as far as a list needs it.
struct FilmAt {
    Id film_id;
    const FrameTable* frames = nullptr; ///< none: no film is open, and film times cannot be placed
    std::vector<ClockMark> clock;       ///< what its game clock shows, see season/game_clock.h
};

struct RowThere {
    std::size_t line = 1;
    std::string where; ///< "shot 3", "line 12"
};

/// A name in the list that says no one goalie of the season.
struct NameAsked {
    std::string written;
    std::vector<Id> meant; ///< those whom it may mean; empty: the season has nobody of that name
};
/// Whom the coach said such a name means, by the name with its capitals folded.
using NamesTold = std::map<std::string, Id>;

struct ComingIn {
    std::vector<ComingShot> shots;
    std::vector<RowThere> there;     ///< rows that are in the game already, or twice in the list
    std::vector<RefusedRow> refused; ///< by line, the reader's own among them
    std::vector<NameAsked> names;    ///< that rows were refused for, each once
};

/// A row is there already when a shot of the game is within half a second of film time, or has its period and
/// clock to within half a second. A row is twice in the list when all it says is the same.
/// A row without a goalie gets the one in net for new shots.
ComingIn coming_in(const LogState& state, const ShotTimes& times, const FilmAt& film,
                   const NamesTold& told = {});

/// Where a period's clock is on the open film; nothing when the film's clock marks do not show it.
std::optional<FrameAt> place_by_clock(const FilmAt& film, int period, double clock_s);

/// The shots of the game that are on no film though the open film shows their clock.
std::vector<FoundPlace> found_places(const LogState& state, const FilmAt& film);

} // namespace ropeline
