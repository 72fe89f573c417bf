#include "desk/state/changes/clock.h"

#include "desk/state/changes/films.h"

#include "season/clock_words.h"
#include "season/game_clock.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <sstream>

namespace ropeline {

namespace {

/// What is typed at a frame: a clock, that it stands or starts again, or both.
struct Typed {
    std::optional<WrittenClock> clock;
    std::optional<bool> running;
    bool understood = true;
};

Typed read_typed(const std::string& text) {
    Typed typed;
    std::string clock;
    std::istringstream words{text};
    for (std::string word; words >> word;) {
        if (word == "stop" || word == "-") {
            typed.running = false;
        } else if (word == "go" || word == "+") {
            typed.running = true;
        } else {
            clock += (clock.empty() ? "" : " ") + word;
        }
    }
    if (!clock.empty()) typed.clock = read_clock(clock);
    typed.understood = clock.empty() || typed.clock;
    return typed;
}

constexpr const char* how_to_write = "The game clock is written as period and time left: 2 14:35, or 14:35.";

/// How far outside the film's clock marks a film time lies: the less, the surer.
double beyond_marks_s(const std::vector<ClockMark>& marks, double film_s) {
    const auto [first, last] = std::ranges::minmax(marks, {}, &ClockMark::film_s);
    return std::max({0.0, first.film_s - film_s, film_s - last.film_s});
}

bool on_film(const Film& film, double film_s) {
    constexpr double frame_s = 0.05;
    if (!film.first_s || !film.last_s) return film_s >= 0.0;
    return film_s >= *film.first_s - frame_s && film_s <= *film.last_s + frame_s;
}

} // namespace

void follow_clock(const LogState& state, Shot& shot) {
    if (shot.clock_s && !shot.clock_from_marks) return;
    const auto time = game_time_at(clock_marks_of(state, shot.film_id), shot.film_s);
    if (!time) {
        shot.clock_s.reset();
        shot.clock_from_marks = false;
        return;
    }
    shot.period = time->period;
    shot.clock_s = time->clock_s;
    shot.clock_from_marks = true;
}

namespace {

/// Works the clocks of a film's shots out again, as a part of the change under way.
void time_shots(LogContext& log, const Id& film_id) {
    log.state.clock_marks.clear();
    for (const Film& film : log.state.films)
        std::ranges::copy(log.file.clock_marks(film.id), std::back_inserter(log.state.clock_marks));
    for (ShotEntry& entry : log.state.shots) {
        if (entry.shot.film_id != film_id) continue;
        follow_clock(log.state, entry.shot);
        log.file.put(entry.shot);
    }
}

void keep_clock_mark(LogContext& log, ClockMark mark) {
    const auto marks = clock_marks_of(log.state, mark.film_id);
    const std::string words = game_time_words(mark.period, mark.clock_s);
    if (const auto other = contradicted(marks, mark)) {
        log.tell(fmt::format(
                     "{} cannot be here: frame {} is marked {}, and the clock only counts down. Correct one "
                     "of them.",
                     words, other->frame, game_time_words(other->period, other->clock_s)),
                 true);
        return;
    }
    const auto same = std::ranges::find(marks, mark.frame, &ClockMark::frame);
    if (same != marks.end()) mark.id = same->id;
    log.file.change(fmt::format("game clock, {}{}", words, mark.running ? "" : " stands"), [&] {
        log.file.put(mark);
        time_shots(log, mark.film_id);
    });
    log.file.wait_for_commit(); // what was typed is let go only then
    log.tell(mark.running
                 ? fmt::format("The game clock shows {} here and runs.", words)
                 : fmt::format("The game clock stands at {} from here. [turn_clock] where it starts again.",
                               words));
}

void remove_clock_mark(LogContext& log) {
    const auto marks = clock_marks_of(log.state, open_film(log.state));
    const auto here = std::ranges::find(marks, log.at.frame, &ClockMark::frame);
    if (here == marks.end()) {
        log.tell(how_to_write, true);
        return;
    }
    const std::string words = game_time_words(here->period, here->clock_s);
    log.file.change("remove the game clock, " + words, [&] {
        log.file.remove_clock_mark(here->id);
        time_shots(log, here->film_id);
    });
    log.tell(fmt::format("Removed the clock mark {}. [undo] brings it back.", words));
}

} // namespace

void handle(LogContext& log, const SetClock& set) {
    const LogState& state = log.state;
    const FrameAt& at = log.at;
    if (!chosen_film(state)) return log.tell(no_film_is_open, true);
    if (set.text.find_first_not_of(' ') == std::string::npos) return remove_clock_mark(log);
    const Typed typed = read_typed(set.text);
    if (!typed.understood) return log.tell(how_to_write, true);
    const auto now = game_time_at(clock_marks_of(state, open_film(state)), at.film_s);
    const auto period = typed.clock && typed.clock->period ? typed.clock->period
                        : now                              ? std::optional{now->period}
                                                           : std::nullopt;
    if (!period) {
        log.tell("No period is known on this film yet: type it with the clock, 2 14:35.", true);
        return;
    }
    ClockMark mark;
    mark.film_id = open_film(state);
    mark.frame = at.frame;
    mark.pts_ticks = at.pts_ticks;
    mark.film_s = at.film_s;
    mark.period = *period;
    mark.clock_s = typed.clock ? typed.clock->clock_s : now->clock_s;
    mark.running = typed.running.value_or(true);
    keep_clock_mark(log, mark);
}

void handle(LogContext& log, const TurnClock&) {
    const auto now = game_time_at(clock_marks_of(log.state, open_film(log.state)), log.at.film_s);
    if (!now) {
        log.tell("No clock mark on this film yet: [set_clock] marks what the game clock shows here.", true);
        return;
    }
    handle(log, SetClock{now->standing ? "go" : "stop"});
}

namespace {

struct PlaceOfClock {
    const Film* film = nullptr; ///< none: on no film of the game
    double film_s = 0.0;
    double beyond_s = 0.0; ///< outside the film's clock marks
};

/// On the film on screen where it can be, else on the one whose clock marks lie nearest.
PlaceOfClock place_of_clock(const LogState& state, int period, double clock_s) {
    PlaceOfClock best;
    for (const Film& film : state.films) {
        const auto marks = clock_marks_of(state, film.id);
        const auto film_s = film_s_at(marks, period, clock_s);
        if (!film_s || !on_film(film, *film_s)) continue;
        if (film.id == open_film(state)) return {&film, *film_s, 0.0};
        const double beyond_s = beyond_marks_s(marks, *film_s);
        if (!best.film || beyond_s < best.beyond_s) best = {&film, *film_s, beyond_s};
    }
    return best;
}

} // namespace

void handle(LogContext& log, const GoToClock& go) {
    LogState& state = log.state;
    const auto wanted = read_clock(go.text);
    if (!wanted) return log.tell(how_to_write, true);
    if (state.clock_marks.empty()) {
        log.tell("No clock mark in this game yet: [set_clock] marks what the game clock shows at a frame.",
                 true);
        return;
    }
    const auto now = game_time_at(clock_marks_of(state, open_film(state)), log.at.film_s);
    const auto period = wanted->period ? wanted->period : now ? std::optional{now->period} : std::nullopt;
    if (!period) {
        log.tell("No period is known on this film: type it with the clock, 2 14:35.", true);
        return;
    }
    const PlaceOfClock place = place_of_clock(state, *period, wanted->clock_s);
    const std::string words = game_time_words(period, wanted->clock_s);
    if (!place.film) {
        log.tell(fmt::format("{} is on no film of this game, as its clock marks have it.", words), true);
        return;
    }
    const Id film_id = place.film->id;
    if (film_id != open_film(state)) {
        if (state.selection.fit()) return log.tell(fit_is_being_made, true);
        turn_to_film(log, film_id);
    }
    state.selection.go_to_time(place.film_s);
    log.tell(
        fmt::format("At {}{}.", words,
                    state.films.size() > 1 ? fmt::format(", film {}", film_number(state, film_id)) : ""));
}

} // namespace ropeline
