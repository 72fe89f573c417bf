#include "desk/state/bring_in.h"

#include "desk/state/shot_list.h"
#include "intake/names_meant.h"
#include "season/clock_words.h"
#include "season/folded.h"
#include "season/game_clock.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace ropeline {

namespace {

constexpr double same_s = 0.5;

/// Times of shots, each with what to call it; finds one within half a second.
class Times {
public:
    void add(const std::string& group, double seconds, const std::string& name) {
        names_.emplace(std::pair{group, seconds}, name);
    }
    const std::string* near(const std::string& group, double seconds) const {
        const auto found = names_.lower_bound({group, seconds - same_s});
        const bool here =
            found != names_.end() && found->first.first == group && found->first.second <= seconds + same_s;
        return here ? &found->second : nullptr;
    }

private:
    std::multimap<std::pair<std::string, double>, std::string> names_;
};

std::string clock_group(int period) {
    return fmt::format("period {}", period);
}

Times times_of_game(const LogState& state) {
    Times times;
    for (std::size_t index = 0; index < state.shots.size(); ++index) {
        const Shot& shot = state.shots[index].shot;
        const std::string name = fmt::format("shot {}", index + 1);
        if (!shot.film_id.empty()) times.add(shot.film_id, shot.film_s, name);
        if (shot.period && shot.clock_s) times.add(clock_group(*shot.period), *shot.clock_s, name);
    }
    return times;
}

FrameAt frame_shown(const FrameTable& frames, double film_s) {
    const FrameIndex frame = frames.shown_at(film_s);
    return {number(frame), frames.pts_of(frame).ticks, frames.seconds_of(frame), {}};
}

/// The goalies a name means: the one the coach said, the one in net where there is no name, else those that it fits.
std::vector<Id> goalies_meant(const LogState& state, const std::string& name, const NamesTold& told) {
    if (name.empty()) return {state.goalie_id};
    const std::string wanted = folded(name);
    if (const auto said = told.find(wanted); said != told.end() && goalie_of(state, said->second))
        return {said->second};
    std::vector<std::string> known;
    for (const Goalie& goalie : state.goalies)
        known.push_back(folded(goalie.name));
    std::vector<Id> meant;
    for (const std::size_t index : names_meant(wanted, known))
        meant.push_back(state.goalies[index].id);
    return meant;
}

/// Why a row whose name means none or several cannot come in yet.
std::string name_trouble(const LogState& state, const NameAsked& asked) {
    if (asked.meant.empty())
        return fmt::format("no goalie of this season is \"{}\": say who is meant, or add the name",
                           asked.written);
    std::vector<std::string_view> names;
    for (const Id& id : asked.meant)
        names.push_back(goalie_of(state, id)->name);
    return fmt::format("\"{}\" may be {}: say who is meant", asked.written, fmt::join(names, " or "));
}

/// Everything a row says: rows of one second are told apart by the rest.
auto whole_row(const ListedShot& row) {
    const IcePoint puck = row.puck.value_or(IcePoint{1e9, 1e9});
    return std::tuple{row.period.value_or(0),
                      row.clock_s.value_or(-1.0),
                      row.film_s.value_or(-1.0),
                      puck.x_m,
                      puck.y_m,
                      row.outcome ? static_cast<int>(*row.outcome) : -1,
                      row.goalie,
                      row.note};
}

/// Why a film time cannot be on the open film; empty when it is.
std::string film_time_trouble(const FilmAt& film, double from_start_s) {
    if (!film.frames || film.frames->count() == 0)
        return "it has a film time, but no film is open: open the film first";
    const double first = film.frames->seconds_of(FrameIndex{0});
    const double length = film.frames->seconds_of(FrameIndex{film.frames->count() - 1}) - first;
    if (from_start_s <= length + 1.0) return {};
    return fmt::format("the film time {} is after the film's end, {}", clock_words(std::floor(from_start_s)),
                       clock_words(std::floor(length)));
}

} // namespace

std::optional<FrameAt> place_by_clock(const FilmAt& film, int period, double clock_s) {
    if (!film.frames || film.frames->count() == 0) return std::nullopt;
    const auto film_s = film_s_at(film.clock, period, clock_s);
    if (!film_s) return std::nullopt;
    const double first = film.frames->seconds_of(FrameIndex{0});
    const double last = film.frames->seconds_of(FrameIndex{film.frames->count() - 1});
    if (*film_s < first - same_s || *film_s > last + same_s) return std::nullopt;
    return frame_shown(*film.frames, *film_s);
}

ComingIn coming_in(const LogState& state, const ShotTimes& times, const FilmAt& film, const NamesTold& told) {
    ComingIn coming;
    coming.refused = times.refused;
    const Times known = times_of_game(state);
    std::map<std::string, std::vector<Id>> meant_by; // worked out once a name
    std::map<decltype(whole_row(std::declval<const ListedShot&>())), std::size_t> seen;
    for (const ListedShot& row : times.shots) {
        const auto refuse = [&](std::string why) { coming.refused.push_back({row.line, std::move(why)}); };
        const auto [name, new_name] = meant_by.try_emplace(row.goalie);
        if (new_name) name->second = goalies_meant(state, row.goalie, told);
        const std::vector<Id>& meant = name->second;
        if (meant.size() != 1) {
            const NameAsked asked{row.goalie, meant};
            refuse(name_trouble(state, asked));
            if (new_name) coming.names.push_back(asked);
            continue;
        }
        ComingShot shot{row, meant.front(), std::nullopt};
        if (row.film_s) {
            if (std::string trouble = film_time_trouble(film, *row.film_s); !trouble.empty()) {
                refuse(std::move(trouble));
                continue;
            }
            shot.at = frame_shown(*film.frames, film.frames->seconds_of(FrameIndex{0}) + *row.film_s);
        } else {
            shot.at = place_by_clock(film, *row.period, *row.clock_s);
        }
        const std::string* there = shot.at ? known.near(film.film_id, shot.at->film_s) : nullptr;
        if (!there && row.period && row.clock_s) there = known.near(clock_group(*row.period), *row.clock_s);
        const auto [same, first_time] = seen.emplace(whole_row(row), row.line);
        if (there) {
            coming.there.push_back({row.line, *there});
        } else if (!first_time) {
            coming.there.push_back({row.line, fmt::format("line {}", same->second)});
        } else {
            coming.shots.push_back(std::move(shot));
        }
    }
    std::ranges::stable_sort(coming.refused, {}, &RefusedRow::line);
    return coming;
}

std::vector<FoundPlace> found_places(const LogState& state, const FilmAt& film) {
    std::vector<FoundPlace> found;
    if (film.clock.empty()) return found;
    for (std::size_t index = 0; index < state.shots.size(); ++index) {
        const Shot& shot = state.shots[index].shot;
        if (!has_no_place(state, shot) || !shot.period || !shot.clock_s) continue;
        if (const auto at = place_by_clock(film, *shot.period, *shot.clock_s)) found.push_back({index, *at});
    }
    return found;
}

} // namespace ropeline
