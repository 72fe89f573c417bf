#include "desk/state/changes/games.h"

#include "desk/state/changes/films.h"
#include "desk/state/reload.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

Id team_named(SeasonFile& file, const std::string& name) {
    for (const Team& team : file.teams()) {
        if (team.name == name) return team.id;
    }
    Team team{{}, name};
    file.put(team);
    return team.id;
}

} // namespace

void handle(LogContext& log, const NewGame& wanted) {
    Game game;
    log.file.change(fmt::format("new game, {}", wanted.date), [&] {
        game.date = wanted.date;
        game.home_team_id = team_named(log.file, wanted.home);
        game.away_team_id = team_named(log.file, wanted.away);
        game.rules = wanted.rules;
        log.file.put(game);
    });
    reload(log.file, log.state);
    const auto known = std::ranges::find(log.state.games, game.id, &Game::id);
    handle(log, ChooseGame{static_cast<std::size_t>(known - log.state.games.begin())});
    log.tell("Game started. Drop its film on the desk, or type where it is.");
}

void handle(LogContext& log, const NewGoalie& wanted) {
    Goalie goalie;
    log.file.change(fmt::format("new goalie, {}", wanted.name), [&] {
        goalie.team_id = team_named(log.file, wanted.team);
        goalie.name = wanted.name;
        log.file.put(goalie);
    });
    log.state.goalie_id = goalie.id;
    reload(log.file, log.state);
    log.tell_nothing();
}

void handle(LogContext& log, const BeginSeason& season) {
    handle(log, season.goalie);
    handle(log, season.game);
    log.file.forget_changes();
    log.tell("Season made. Everything you log is kept at once; there is nothing to save.");
}

void handle(LogContext& log, const ChooseGame& choose) {
    LogState& state = log.state;
    if (choose.index >= state.games.size()) return;
    state.selection.open_game(state.games[choose.index].id);
    state.films = log.file.films(state.selection.game_id());
    state.left_at.clear();
    reload_shots(log.file, state);
    if (!state.shots.empty()) state.goalie_id = state.shots.back().shot.goalie_id;
    turn_to_film(log, state.films.empty() ? Id{} : state.films.front().id);
}

void handle(LogContext& log, const ReopenAt& to) {
    LogState& state = log.state;
    const auto game = std::ranges::find(state.games, to.game_id, &Game::id);
    if (game == state.games.end()) return;
    if (game->id != state.selection.game_id())
        handle(log, ChooseGame{static_cast<std::size_t>(game - state.games.begin())});
    if (std::ranges::find(state.films, to.film_id, &Film::id) == state.films.end()) return;
    if (to.film_id != open_film(state)) turn_to_film(log, to.film_id);
    state.selection.go_to_frame(to.frame);
}

} // namespace ropeline
