// The game clock on the desk: what is typed at a frame, whistles, going to a game clock.
#include "desk/state/log_book.h"

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

std::vector<ClockMark> clock_marks_of(const LogState& state, const Id& film_id) {
    std::vector<ClockMark> marks;
    std::ranges::copy_if(state.clock_marks, std::back_inserter(marks),
                         [&](const ClockMark& mark) { return mark.film_id == film_id; });
    return marks;
}

/// A shot whose clock nobody typed shows what its film's clock marks say.
void LogBook::follow_clock(Shot& shot) const {
    if (shot.clock_s && !shot.clock_from_marks) return;
    const auto time = game_time_at(clock_marks_of(state_, shot.film_id), shot.film_s);
    if (!time) {
        shot.clock_s.reset();
        shot.clock_from_marks = false;
        return;
    }
    shot.period = time->period;
    shot.clock_s = time->clock_s;
    shot.clock_from_marks = true;
}

/// Works the clocks of a film's shots out again, as a part of the change under way.
void LogBook::time_shots(const Id& film_id) {
    state_.clock_marks.clear();
    for (const Film& film : state_.films)
        std::ranges::copy(file_.clock_marks(film.id), std::back_inserter(state_.clock_marks));
    for (ShotEntry& entry : state_.shots) {
        if (entry.shot.film_id != film_id) continue;
        follow_clock(entry.shot);
        file_.put(entry.shot);
    }
}

void LogBook::keep_clock_mark(ClockMark mark) {
    const auto marks = clock_marks_of(state_, mark.film_id);
    const std::string words = game_time_words(mark.period, mark.clock_s);
    if (const auto other = contradicted(marks, mark)) {
        tell(fmt::format(
                 "{} cannot be here: frame {} is marked {}, and the clock only counts down. Correct one "
                 "of them.",
                 words, other->frame, game_time_words(other->period, other->clock_s)),
             true);
        return;
    }
    const auto same = std::ranges::find(marks, mark.frame, &ClockMark::frame);
    if (same != marks.end()) mark.id = same->id;
    file_.change(fmt::format("game clock, {}{}", words, mark.running ? "" : " stands"), [&] {
        file_.put(mark);
        time_shots(mark.film_id);
    });
    file_.wait_for_commit(); // what was typed is let go only then
    tell(mark.running
             ? fmt::format("The game clock shows {} here and runs.", words)
             : fmt::format("The game clock stands at {} from here. [turn_clock] where it starts again.",
                           words));
}

void LogBook::remove_clock_mark(std::int64_t frame) {
    const auto marks = clock_marks_of(state_, open_film(state_));
    const auto here = std::ranges::find(marks, frame, &ClockMark::frame);
    if (here == marks.end()) {
        tell(how_to_write, true);
        return;
    }
    const std::string words = game_time_words(here->period, here->clock_s);
    file_.change("remove the game clock, " + words, [&] {
        file_.remove_clock_mark(here->id);
        time_shots(here->film_id);
    });
    tell(fmt::format("Removed the clock mark {}. [undo] brings it back.", words));
}

void LogBook::set_clock(const std::string& text, const FrameAt& at) {
    if (!state_.film) {
        tell("Open a film first: drop one on the desk, or press [games].", true);
        return;
    }
    if (text.find_first_not_of(' ') == std::string::npos) return remove_clock_mark(at.frame);
    const Typed typed = read_typed(text);
    if (!typed.understood) {
        tell(how_to_write, true);
        return;
    }
    const auto now = game_time_at(clock_marks_of(state_, open_film(state_)), at.film_s);
    const auto period = typed.clock && typed.clock->period ? typed.clock->period
                        : now                              ? std::optional{now->period}
                                                           : std::nullopt;
    if (!period) {
        tell("No period is known on this film yet: type it with the clock, 2 14:35.", true);
        return;
    }
    ClockMark mark;
    mark.film_id = open_film(state_);
    mark.frame = at.frame;
    mark.pts_ticks = at.pts_ticks;
    mark.film_s = at.film_s;
    mark.period = *period;
    mark.clock_s = typed.clock ? typed.clock->clock_s : now->clock_s;
    mark.running = typed.running.value_or(true);
    keep_clock_mark(mark);
}

void LogBook::turn_clock(const FrameAt& at) {
    const auto now = game_time_at(clock_marks_of(state_, open_film(state_)), at.film_s);
    if (!now) {
        tell("No clock mark on this film yet: [set_clock] marks what the game clock shows here.", true);
        return;
    }
    set_clock(now->standing ? "go" : "stop", at);
}

void LogBook::go_to_clock(const std::string& text, const FrameAt& at) {
    const auto wanted = read_clock(text);
    if (!wanted) {
        tell(how_to_write, true);
        return;
    }
    if (state_.clock_marks.empty()) {
        tell("No clock mark in this game yet: [set_clock] marks what the game clock shows at a frame.", true);
        return;
    }
    const auto now = game_time_at(clock_marks_of(state_, open_film(state_)), at.film_s);
    const auto period = wanted->period ? wanted->period : now ? std::optional{now->period} : std::nullopt;
    if (!period) {
        tell("No period is known on this film: type it with the clock, 2 14:35.", true);
        return;
    }
    std::optional<std::size_t> best;
    double best_s = 0.0;
    double best_beyond_s = 0.0;
    for (std::size_t index = 0; index < state_.films.size(); ++index) {
        const auto marks = clock_marks_of(state_, state_.films[index].id);
        const auto film_s = film_s_at(marks, *period, wanted->clock_s);
        if (!film_s || !on_film(state_.films[index], *film_s)) continue;
        const double beyond_s = state_.film == index ? 0.0 : beyond_marks_s(marks, *film_s);
        if (best && !(beyond_s < best_beyond_s) && state_.film != index) continue;
        best = index;
        best_s = *film_s;
        best_beyond_s = beyond_s;
    }
    const std::string words = game_time_words(period, wanted->clock_s);
    if (!best) {
        tell(fmt::format("{} is on no film of this game, as its clock marks have it.", words), true);
        return;
    }
    if (state_.film != best) {
        if (state_.fit) {
            tell("A rink fit is being made on this film: [take_shot] keeps it, [put_down] leaves it.", true);
            return;
        }
        turn_to_film(*best);
    }
    state_.jump_s = best_s;
    tell(fmt::format("At {}{}.", words, state_.films.size() > 1 ? fmt::format(", film {}", *best + 1) : ""));
}

} // namespace ropeline
