#include "desk/state/log_state.h"

#include <algorithm>
#include <iterator>

namespace ropeline {

namespace {

template <class Record>
const Record* find_record(const std::vector<Record>& records, const Id& id) {
    const auto found = std::ranges::find(records, id, &Record::id);
    return id.empty() || found == records.end() ? nullptr : &*found;
}

} // namespace

const Game* chosen_game(const LogState& state) {
    return find_record(state.games, state.selection.game_id());
}

const Film* chosen_film(const LogState& state) {
    return find_record(state.films, state.selection.film_id());
}

std::optional<std::size_t> chosen_index(const LogState& state) {
    const Id& id = state.selection.shot_id();
    const auto found =
        std::ranges::find_if(state.shots, [&](const ShotEntry& entry) { return entry.shot.id == id; });
    if (id.empty() || found == state.shots.end()) return std::nullopt;
    return static_cast<std::size_t>(found - state.shots.begin());
}

const ShotEntry* chosen_shot(const LogState& state) {
    const auto index = chosen_index(state);
    return index ? &state.shots[*index] : nullptr;
}

const Moment* moment_in_hand(const LogState& state) {
    const ShotEntry* entry = chosen_shot(state);
    if (!entry) return nullptr;
    const Moment* picked = find_record(entry->moments, state.selection.moment_id());
    return picked ? picked : main_moment(*entry);
}

std::optional<std::size_t> held_mark(const LogState& state) {
    const auto& held = state.selection.held();
    const Moment* moment = moment_in_hand(state);
    if (!held || !moment || held->moment_id != moment->id || held->mark >= moment->marks.size())
        return std::nullopt;
    return held->mark;
}

const Id& open_film(const LogState& state) {
    return state.selection.film_id();
}

int film_number(const LogState& state, const Id& film_id) {
    const Film* film = find_record(state.films, film_id);
    return film ? static_cast<int>(film - state.films.data()) + 1 : 0;
}

RuleBookId game_rules(const LogState& state) {
    const Game* game = chosen_game(state);
    return game ? game->rules : state.season.rules;
}

std::vector<ClockMark> clock_marks_of(const LogState& state, const Id& film_id) {
    std::vector<ClockMark> marks;
    std::ranges::copy_if(state.clock_marks, std::back_inserter(marks),
                         [&](const ClockMark& mark) { return mark.film_id == film_id; });
    return marks;
}

const Goalie* goalie_of(const LogState& state, const Id& id) {
    return find_record(state.goalies, id);
}

std::string team_name(const LogState& state, const Id& id) {
    const Team* team = find_record(state.teams, id);
    return team ? team->name : std::string{};
}

} // namespace ropeline
