#include "season/game_clock.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

constexpr double longest_period_s = 1200.0;

/// The marks themselves where they stand in order, as a season file gives them; else a copy in `room` that
/// does.
const std::vector<ClockMark>& in_film_order(const std::vector<ClockMark>& marks,
                                            std::vector<ClockMark>& room) {
    if (std::ranges::is_sorted(marks, {}, &ClockMark::film_s)) return marks;
    room = marks;
    std::ranges::stable_sort(room, {}, &ClockMark::film_s);
    return room;
}

/// The highest clock that is counted up to before the first mark.
double top_of(const ClockMark& first) {
    return std::max(first.clock_s, longest_period_s);
}

/// Where a running mark's clock comes to rest before the next mark.
double floor_of(const std::vector<ClockMark>& marks, std::size_t index) {
    const ClockMark& mark = marks[index];
    if (!mark.running) return mark.clock_s;
    const bool same_period = index + 1 < marks.size() && marks[index + 1].period == mark.period;
    return same_period ? std::min(marks[index + 1].clock_s, mark.clock_s) : 0.0;
}

bool contradict(const ClockMark& earlier, const ClockMark& later) {
    return later.period < earlier.period ||
           (later.period == earlier.period && later.clock_s > earlier.clock_s);
}

} // namespace

std::optional<GameTime> game_time_at(const std::vector<ClockMark>& of_a_film, double film_s) {
    if (of_a_film.empty()) return std::nullopt;
    std::vector<ClockMark> room;
    const std::vector<ClockMark>& marks = in_film_order(of_a_film, room);
    const auto after = std::ranges::upper_bound(marks, film_s, {}, &ClockMark::film_s);
    if (after == marks.begin()) {
        const ClockMark& first = marks.front();
        const double counted = first.clock_s + (first.film_s - film_s);
        const double top = top_of(first);
        return GameTime{first.period, std::min(counted, top), counted > top};
    }
    const auto index = static_cast<std::size_t>(after - marks.begin()) - 1;
    const ClockMark& mark = marks[index];
    const double floor = floor_of(marks, index);
    const double counted = mark.running ? mark.clock_s - (film_s - mark.film_s) : mark.clock_s;
    return GameTime{mark.period, std::max(counted, floor), counted <= floor};
}

std::optional<double> film_s_at(const std::vector<ClockMark>& of_a_film, int period, double clock_s) {
    std::vector<ClockMark> room;
    const std::vector<ClockMark>& marks = in_film_order(of_a_film, room);
    if (marks.empty()) return std::nullopt;
    const ClockMark& first = marks.front();
    if (period == first.period && clock_s > first.clock_s && clock_s <= top_of(first))
        return first.film_s - (clock_s - first.clock_s);
    for (std::size_t index = 0; index < marks.size(); ++index) {
        const ClockMark& mark = marks[index];
        if (mark.period != period || clock_s > mark.clock_s) continue;
        const double shown = mark.film_s + (mark.clock_s - clock_s);
        const bool last = index + 1 == marks.size();
        const bool in_time = last || shown < marks[index + 1].film_s;
        if (clock_s >= floor_of(marks, index) && in_time) return shown;
        const bool jumped = !last && marks[index + 1].period == period && clock_s > marks[index + 1].clock_s;
        if (jumped) return marks[index + 1].film_s;
    }
    return std::nullopt;
}

std::optional<ClockMark> contradicted(const std::vector<ClockMark>& of_a_film, const ClockMark& wanted) {
    std::optional<ClockMark> nearest;
    const auto away = [&](const ClockMark& mark) { return std::abs(mark.film_s - wanted.film_s); };
    for (const ClockMark& mark : of_a_film) {
        if (mark.frame == wanted.frame) continue;
        const bool wrong = mark.film_s < wanted.film_s ? contradict(mark, wanted) : contradict(wanted, mark);
        if (wrong && (!nearest || away(mark) < away(*nearest))) nearest = mark;
    }
    return nearest;
}

} // namespace ropeline
