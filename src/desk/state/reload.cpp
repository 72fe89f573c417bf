#include "desk/state/reload.h"

#include <algorithm>
#include <iterator>

namespace ropeline {

namespace {

void close_film_that_is_gone(LogState& state) {
    if (!state.selection.film_id().empty() && !chosen_film(state)) state.selection.open_film({});
}

void close_shot_that_is_gone(LogState& state) {
    const Selection& open = state.selection;
    const ShotEntry* entry = chosen_shot(state);
    if (!entry) {
        if (!open.shot_id().empty()) state.selection.open_shot({});
        return;
    }
    const bool there =
        std::ranges::find(entry->moments, open.moment_id(), &Moment::id) != entry->moments.end();
    if (!open.moment_id().empty() && !there) state.selection.open_moment({});
}

} // namespace

void reload(const SeasonFile& file, LogState& state) {
    state.season = file.season();
    state.teams = file.teams();
    state.goalies = file.goalies();
    state.games = file.games();
    state.asks = file.asks();
    state.tags = file.tags();
    state.answers = file.answers().size();
    if (!state.selection.game_id().empty() && !chosen_game(state)) state.selection.open_game({});
    const Game* game = chosen_game(state);
    state.films = game ? file.films(game->id) : std::vector<Film>{};
    close_film_that_is_gone(state);
    if (!goalie_of(state, state.goalie_id))
        state.goalie_id = state.goalies.empty() ? Id{} : state.goalies.front().id;
    reload_fits(file, state);
    reload_shots(file, state);
}

void reload_shots(const SeasonFile& file, LogState& state) {
    state.shots.clear();
    state.clock_marks.clear();
    for (const Film& film : state.films)
        std::ranges::copy(file.clock_marks(film.id), std::back_inserter(state.clock_marks));
    if (const Game* game = chosen_game(state)) {
        for (const Shot& stored : file.shots(game->id))
            state.shots.push_back({stored, file.moments(stored.id)});
    }
    close_shot_that_is_gone(state);
}

void reload_fits(const SeasonFile& file, LogState& state) {
    const Film* film = chosen_film(state);
    state.fits = film ? file.rink_fits(film->id) : std::vector<StoredFit>{};
    state.carries.clear();
    for (const StoredFit& fit : state.fits) {
        if (!fit.carried_from.empty()) continue;
        std::ranges::move(file.carries_of(fit), std::back_inserter(state.carries));
    }
    state.other_fits.clear();
    for (const Film& other : state.films) {
        if (&other != film) std::ranges::move(file.rink_fits(other.id), std::back_inserter(state.other_fits));
    }
}

} // namespace ropeline
