#include "desk/state/changes/films.h"

#include "desk/state/reload.h"
#include "season/game_clock.h"

#include <fmt/core.h>

#include <filesystem>

namespace ropeline {

namespace {

/// The film of the game with this content or this path, else a new one.
Film known_film(const LogContext& log, const FilmFacts& facts) {
    Film film;
    film.game_id = log.state.selection.game_id();
    for (const Film& known : log.state.films) {
        if (known.fingerprint == facts.fingerprint || film_path(log.file, known) == facts.path) film = known;
    }
    return film;
}

} // namespace

void turn_to_film(LogContext& log, const Id& film_id) {
    log.state.selection.open_film(film_id);
    reload_fits(log.file, log.state);
}

void handle(LogContext& log, const ChooseFilm& choose) {
    if (choose.index >= log.state.films.size()) return;
    log.state.selection.open_shot({});
    turn_to_film(log, log.state.films[choose.index].id);
}

void handle(LogContext& log, const KeepFilm& opened) {
    if (!chosen_game(log.state)) return;
    Film film = known_film(log, opened.facts);
    const Film before = film;
    film.path = film_path_to_store(log.file, opened.facts.path);
    film.bytes = static_cast<std::int64_t>(opened.facts.file_bytes);
    film.fingerprint = opened.facts.fingerprint;
    film.shown = {opened.facts.shown_width_px, opened.facts.shown_height_px};
    film.frame_count = opened.frame_count;
    const bool same = !film.id.empty() && before.path == film.path &&
                      before.fingerprint == film.fingerprint && before.frame_count == film.frame_count &&
                      before.shown == film.shown;
    if (opened.span) {
        film.first_s = opened.span->first_s;
        film.last_s = opened.span->last_s;
    }
    if (!same) {
        const std::string name = std::filesystem::path(film.path).filename().string();
        log.file.change(fmt::format("{}, {}", film.id.empty() ? "new film" : "film found again", name),
                        [&] { log.file.put(film); });
    } else if (film.first_s != before.first_s || film.last_s != before.last_s) {
        log.file.follow_up([&] { log.file.put(film); });
    }
    if (!opened.index.empty())
        log.file.put(StoredFilmIndex{film.id, opened.facts.fingerprint, film_library(), opened.index});
    log.state.films = log.file.films(film.game_id);
    if (film.id == open_film(log.state)) return reload_fits(log.file, log.state);
    turn_to_film(log, film.id);
}

void handle(LogContext& log, const KeepFilmMarks& found) {
    const Film* film = chosen_film(log.state);
    if (!film || film->fingerprint != found.fingerprint) return; // another one is open by now
    log.file.put(StoredFilmMarks{film->id, found.fingerprint, found.marks});
}

void show_frame(LogContext& log, const Id& film_id, std::int64_t frame) {
    if (film_number(log.state, film_id) == 0) return;
    if (film_id != open_film(log.state)) {
        if (log.state.selection.fit()) return log.tell(fit_is_being_made, true);
        turn_to_film(log, film_id);
    }
    log.state.selection.go_to_frame(frame);
}

/// With the shot left open: to the same game clock where both films know it, else to where the film was left.
void handle(LogContext& log, const ShowFilm& show) {
    LogState& state = log.state;
    if (show.index >= state.films.size()) return;
    const Id film_id = state.films[show.index].id;
    if (film_id == open_film(state)) return;
    if (state.selection.fit()) return log.tell(fit_is_being_made, true);
    const auto now = game_time_at(clock_marks_of(state, open_film(state)), log.at.film_s);
    turn_to_film(log, film_id);
    const auto same =
        now ? film_s_at(clock_marks_of(state, film_id), now->period, now->clock_s) : std::nullopt;
    if (same) {
        state.selection.go_to_time(*same);
    } else if (const auto left = state.left_at.find(film_id); left != state.left_at.end()) {
        state.selection.go_to_frame(left->second);
    }
    log.tell(fmt::format("Film {} of {}{}.", show.index + 1, state.films.size(),
                         same ? ", at the same game clock" : ""));
}

void handle(LogContext& log, const ShowFilmBy& by) {
    const int count = static_cast<int>(log.state.films.size());
    if (count < 2) {
        log.tell("This game has one film: drop another on the desk, or press [games], to add it.");
        return;
    }
    const int now = std::max(0, film_number(log.state, open_film(log.state)) - 1);
    handle(log, ShowFilm{static_cast<std::size_t>(((now + by.steps) % count + count) % count)});
}

} // namespace ropeline
