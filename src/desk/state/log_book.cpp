#include "desk/state/log_book.h"

#include "season/derive.h"
#include "season/play.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <iterator>

namespace ropeline {

namespace {

template <class Record>
std::optional<std::size_t> index_of(const std::vector<Record>& records, const Id& id) {
    const auto found = std::ranges::find(records, id, &Record::id);
    if (found == records.end()) return std::nullopt;
    return static_cast<std::size_t>(found - records.begin());
}

std::optional<std::size_t> index_of(const std::vector<ShotEntry>& entries, const Id& id) {
    const auto found =
        std::ranges::find_if(entries, [&](const ShotEntry& entry) { return entry.shot.id == id; });
    if (found == entries.end()) return std::nullopt;
    return static_cast<std::size_t>(found - entries.begin());
}

} // namespace

LogBook::LogBook(SeasonFile season) : file_(std::move(season)) {
    reload();
    if (!state_.games.empty()) choose_game(state_.games.size() - 1);
}

void LogBook::reload() {
    const Id game = state_.game ? state_.games[*state_.game].id : Id{};
    const Id film = state_.film ? state_.films[*state_.film].id : Id{};
    state_.season = file_.season();
    state_.teams = file_.teams();
    state_.goalies = file_.goalies();
    state_.games = file_.games();
    state_.game = index_of(state_.games, game);
    state_.films = state_.game ? file_.films(game) : std::vector<Film>{};
    state_.film = index_of(state_.films, film);
    if (!index_of(state_.goalies, state_.goalie_id)) {
        state_.goalie_id = state_.goalies.empty() ? Id{} : state_.goalies.front().id;
    }
    reload_film();
    reload_shots();
}

void LogBook::reload_shots() {
    const Id shot = state_.shot ? state_.shots[*state_.shot].shot.id : Id{};
    state_.shots.clear();
    state_.clock_marks.clear();
    for (const Film& film : state_.films)
        std::ranges::copy(file_.clock_marks(film.id), std::back_inserter(state_.clock_marks));
    if (state_.game) {
        for (const Shot& stored : file_.shots(state_.games[*state_.game].id)) {
            state_.shots.push_back({stored, file_.moments(stored.id)});
        }
    }
    state_.shot = index_of(state_.shots, shot);
}

void LogBook::reload_film() {
    state_.fits = state_.film ? file_.rink_fits(state_.films[*state_.film].id) : std::vector<StoredFit>{};
    state_.carries.clear();
    for (const StoredFit& fit : state_.fits) {
        if (!fit.carried_from.empty()) continue;
        if (auto carry = file_.carry_of(fit)) state_.carries.push_back(std::move(*carry));
    }
    state_.other_fits.clear();
    for (const Film& film : state_.films) {
        if (film.id != open_film(state_))
            std::ranges::move(file_.rink_fits(film.id), std::back_inserter(state_.other_fits));
    }
}

Id LogBook::team_named(const std::string& name) {
    for (const Team& team : file_.teams()) {
        if (team.name == name) return team.id;
    }
    Team team{{}, name};
    file_.put(team);
    return team.id;
}

void LogBook::begin_game(const NewGame& wanted) {
    Game game;
    file_.change(fmt::format("new game, {}", wanted.date), [&] {
        game.date = wanted.date;
        game.home_team_id = team_named(wanted.home);
        game.away_team_id = team_named(wanted.away);
        game.rules = wanted.rules;
        file_.put(game);
    });
    reload();
    if (const auto index = index_of(state_.games, game.id)) choose_game(*index);
}

void LogBook::add_goalie(const std::string& name, const std::string& team) {
    Goalie goalie;
    file_.change(fmt::format("new goalie, {}", name), [&] {
        goalie.team_id = team_named(team);
        goalie.name = name;
        file_.put(goalie);
    });
    state_.goalie_id = goalie.id;
    reload();
}

void LogBook::choose_game(std::size_t index) {
    if (index >= state_.games.size()) return;
    state_.game = index;
    state_.films = file_.films(state_.games[index].id);
    state_.film.reset();
    state_.shot.reset();
    state_.fit.reset();
    state_.hand = Hand::empty;
    state_.left_at.clear();
    reload_shots();
    if (!state_.shots.empty()) state_.goalie_id = state_.shots.back().shot.goalie_id;
    if (!state_.films.empty()) {
        choose_film(0);
    } else {
        reload_film();
    }
}

void LogBook::choose_film(std::size_t index) {
    if (index >= state_.films.size()) return;
    state_.shot.reset();
    turn_to_film(index);
}

void LogBook::turn_to_film(std::size_t index) {
    state_.film = index;
    state_.fit.reset();
    state_.hand = Hand::empty;
    state_.held.reset();
    state_.jump.reset();
    state_.jump_s.reset();
    reload_film();
}

void LogBook::keep_film(const FilmFacts& facts, std::int64_t frame_count, std::optional<FilmSpan> span) {
    if (!state_.game) return;
    Film film;
    film.game_id = state_.games[*state_.game].id;
    for (const Film& known : state_.films) {
        if (known.fingerprint == facts.fingerprint || film_path(file_, known) == facts.path) film = known;
    }
    const Film before = film;
    film.path = film_path_to_store(file_, facts.path);
    film.bytes = static_cast<std::int64_t>(facts.file_bytes);
    film.fingerprint = facts.fingerprint;
    film.shown = {facts.shown_width_px, facts.shown_height_px};
    film.frame_count = frame_count;
    const bool same = !film.id.empty() && before.path == film.path &&
                      before.fingerprint == film.fingerprint && before.frame_count == film.frame_count &&
                      before.shown == film.shown;
    if (span) {
        film.first_s = span->first_s;
        film.last_s = span->last_s;
    }
    if (!same) {
        const std::string name = std::filesystem::path(film.path).filename().string();
        file_.change(fmt::format("{}, {}", film.id.empty() ? "new film" : "film found again", name),
                     [&] { file_.put(film); });
    } else if (film.first_s != before.first_s || film.last_s != before.last_s) {
        file_.follow_up([&] { file_.put(film); });
    }
    state_.films = file_.films(film.game_id);
    state_.film = index_of(state_.films, film.id);
    reload_film();
}

std::optional<std::int64_t> LogBook::take_jump() {
    const auto jump = state_.jump;
    state_.jump.reset();
    return jump;
}

std::optional<double> LogBook::take_jump_s() {
    const auto jump = state_.jump_s;
    state_.jump_s.reset();
    return jump;
}

ShotEntry* LogBook::chosen() {
    return state_.shot ? &state_.shots[*state_.shot] : nullptr;
}

std::string LogBook::shot_name() const {
    return state_.shot ? fmt::format("shot {}", *state_.shot + 1) : std::string{"shot"};
}

FitHere fit_here(const LogState& state, std::int64_t frame) {
    return fit_here(state.fits, state.carries, frame);
}

FitHere fit_for(const LogState& state, const Shot& shot, const Moment& moment) {
    FitHere here;
    if (moment.film_id == open_film(state)) {
        here = fit_here(state, moment.frame);
    } else {
        const auto stored = std::ranges::find(state.other_fits, moment.rink_fit_id, &StoredFit::id);
        if (stored == state.other_fits.end()) return here;
        const bool clicked_here = stored->carried_from.empty() && stored->frame == moment.frame;
        here = {clicked_here                   ? FitHere::Source::clicked
                : stored->carried_from.empty() ? FitHere::Source::assumed
                                               : FitHere::Source::carried,
                &*stored, stored->fit, CarryState::held, 0.0};
    }
    if (here.fit) here.fit = fit_for(shot, moment, *here.fit, rule_book(here.key->rules));
    return here;
}

RuleBookId rules_for(const LogState& state, const Moment& moment) {
    if (moment.film_id == open_film(state)) {
        if (const FitHere here = fit_here(state, moment.frame); here.key) return here.key->rules;
    }
    const auto stored = std::ranges::find(state.other_fits, moment.rink_fit_id, &StoredFit::id);
    if (stored != state.other_fits.end()) return stored->rules;
    return state.game ? state.games[*state.game].rules : state.season.rules;
}

const Id& open_film(const LogState& state) {
    static const Id none;
    return state.film ? state.films[*state.film].id : none;
}

std::vector<StoredFit> clicked_fits(const LogState& state) {
    std::vector<StoredFit> clicked;
    std::ranges::copy_if(state.fits, std::back_inserter(clicked),
                         [](const StoredFit& fit) { return fit.carried_from.empty(); });
    return clicked;
}

const Moment* main_moment(const ShotEntry& entry) {
    return main_moment(std::span{entry.moments});
}

const Moment* moment_in_hand(const LogState& state) {
    const ShotEntry* entry = chosen_shot(state);
    if (!entry) return nullptr;
    if (state.moment && *state.moment < entry->moments.size()) return &entry->moments[*state.moment];
    return main_moment(*entry);
}

const Mark* find_mark(const Moment& moment, MarkKind kind) {
    const auto found = std::ranges::find(moment.marks, kind, &Mark::kind);
    return found == moment.marks.end() ? nullptr : &*found;
}

const ShotEntry* chosen_shot(const LogState& state) {
    return state.shot && *state.shot < state.shots.size() ? &state.shots[*state.shot] : nullptr;
}

const Goalie* goalie_of(const LogState& state, const Id& id) {
    const auto found = std::ranges::find(state.goalies, id, &Goalie::id);
    return found == state.goalies.end() ? nullptr : &*found;
}

std::string team_name(const LogState& state, const Id& id) {
    const auto found = std::ranges::find(state.teams, id, &Team::id);
    return found == state.teams.end() ? std::string{} : found->name;
}

} // namespace ropeline
