// What the shot list does to the log: walking along it, removing from it, putting a shot on the film.
#include "desk/state/shot_list.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

/// Where to go on from when no listed shot is open: the nearest one on the film, in film order; by any other
/// order the first or the last of the list.
std::size_t start_of_walk(const LogState& state, const std::vector<std::size_t>& listed, int steps,
                          const FrameAt& at) {
    // Shots stand by film, then frame.
    const auto shot_at = [&](std::size_t index) {
        return std::pair{state.shots[index].shot.film_id, state.shots[index].shot.frame};
    };
    const auto here = std::pair{open_film(state), at.frame};
    if (state.list.by != ShotColumn::number || state.list.falling)
        return steps > 0 ? listed.front() : listed.back();
    if (steps > 0) {
        const auto on = std::ranges::find_if(listed, [&](std::size_t i) { return shot_at(i) >= here; });
        return on == listed.end() ? listed.back() : *on;
    }
    const auto back =
        std::find_if(listed.rbegin(), listed.rend(), [&](std::size_t i) { return shot_at(i) <= here; });
    return back == listed.rend() ? listed.front() : *back;
}

std::optional<std::size_t> index_of_shot(const LogState& state, const Id& id) {
    const auto found =
        std::ranges::find_if(state.shots, [&](const ShotEntry& entry) { return entry.shot.id == id; });
    if (found == state.shots.end()) return std::nullopt;
    return static_cast<std::size_t>(found - state.shots.begin());
}

} // namespace

void LogBook::pick_shot_by(int steps, const FrameAt& at) {
    const std::vector<std::size_t> listed = listed_shots(state_);
    if (listed.empty()) {
        tell(state_.shots.empty() ? "No shots in this game yet: press [new_shot] to log one at this frame."
                                  : "No shot of this game has these words: [put_down] clears the filter.");
        return;
    }
    const auto now = state_.shot ? std::ranges::find(listed, *state_.shot) : listed.end();
    if (now == listed.end()) return apply(PickShot{start_of_walk(state_, listed, steps, at)}, at);
    const auto last = static_cast<std::ptrdiff_t>(listed.size()) - 1;
    const auto wanted = std::clamp<std::ptrdiff_t>(now - listed.begin() + steps, 0, last);
    apply(PickShot{listed[static_cast<std::size_t>(wanted)]}, at);
}

void LogBook::remove_shot(bool pick_next) {
    const std::string name = shot_name();
    const Id id = chosen()->shot.id;
    const std::vector<std::size_t> listed = listed_shots(state_);
    const auto here = std::ranges::find(listed, *state_.shot);
    Id next;
    if (pick_next && here != listed.end() && listed.size() > 1)
        next = state_.shots[here + 1 == listed.end() ? *(here - 1) : *(here + 1)].shot.id;
    file_.change("remove " + name, [&] { file_.remove_shot(id); });
    state_.shot.reset();
    state_.hand = Hand::empty;
    reload_shots();
    state_.shot = index_of_shot(state_, next);
    tell(fmt::format("Removed {}. [undo] brings it back.", name));
}

bool LogBook::on_the_film(const ShotEntry& entry) {
    if (!has_no_place(state_, entry.shot)) return true;
    tell(fmt::format("{} has no place on the film yet: step to its frame and press [shot_is_here].",
                     "S" + shot_name().substr(1)),
         true);
    return false;
}

void LogBook::place_on_film(ShotEntry& entry, const FrameAt& at) {
    Shot& shot = entry.shot;
    shot.film_id = state_.films[*state_.film].id;
    shot.frame = at.frame;
    shot.pts_ticks = at.pts_ticks;
    shot.film_s = at.film_s;
    follow_clock(shot);
    shot.far_net = likely_far_net(state_, shot, state_.films[*state_.film].shown);
    if (entry.moments.empty()) entry.moments.emplace_back();
    file_.put(shot);
    for (Moment& moment : entry.moments) {
        moment.shot_id = shot.id;
        moment.film_id = shot.film_id;
        moment.frame = at.frame;
        moment.pts_ticks = at.pts_ticks;
        file_.put(moment);
    }
}

void LogBook::place_shot(const FrameAt& at) {
    ShotEntry* entry = chosen();
    if (!entry) {
        tell("No shot is open: pick the one in the list that is at this frame.", true);
        return;
    }
    if (!state_.film) {
        tell("Open a film first: drop one on the desk, or press [games].", true);
        return;
    }
    if (!entry->shot.film_id.empty()) {
        tell(fmt::format("S{} has its place on the film already. Marking it on another frame moves it.",
                         shot_name().substr(1)),
             true);
        return;
    }
    const Id id = entry->shot.id;
    file_.change("place on the film, " + shot_name(), [&] { place_on_film(*entry, at); });
    reload_shots();
    state_.shot = index_of_shot(state_, id);
    state_.hand = Hand::first_skate;
    state_.held.reset();
    state_.notice = {};
}

void LogBook::bring_in(const BringIn& list) {
    if (!state_.game || list.shots.empty()) return;
    const std::string count = fmt::format("{} shot{}", list.shots.size(), list.shots.size() == 1 ? "" : "s");
    std::size_t placed = 0;
    file_.change(fmt::format("{} from {}", count, list.from), [&] {
        for (const ComingShot& coming : list.shots) {
            ShotEntry entry;
            Shot& shot = entry.shot;
            shot.game_id = state_.games[*state_.game].id;
            shot.goalie_id = coming.goalie_id;
            shot.period = coming.listed.period;
            shot.clock_s = coming.listed.clock_s;
            shot.outcome = coming.listed.outcome;
            shot.note = coming.listed.note;
            Moment& moment = entry.moments.emplace_back();
            if (coming.listed.puck) {
                Mark puck;
                puck.kind = MarkKind::puck;
                puck.ice = coming.listed.puck;
                moment.marks.push_back(puck);
            }
            if (coming.at && state_.film) {
                place_on_film(entry, *coming.at);
                ++placed;
            } else {
                file_.put(shot);
                moment.shot_id = shot.id;
                file_.put(moment);
            }
        }
    });
    state_.shot.reset();
    state_.hand = Hand::empty;
    reload_shots();
    tell(fmt::format("{} brought in from {}, {}. [undo] takes them all out again.", count, list.from,
                     placed == list.shots.size() ? std::string{"all with their place on the film"}
                                                 : fmt::format("{} of them with no place on the film yet",
                                                               list.shots.size() - placed)));
}

void LogBook::put_on_film(const PutOnFilm& found) {
    if (!state_.film || found.places.empty()) return;
    const std::size_t count = found.places.size();
    const char* shots = count == 1 ? "shot" : "shots";
    file_.change(fmt::format("{} {} put where the clock says", count, shots), [&] {
        for (const FoundPlace& place : found.places) {
            if (place.shot < state_.shots.size()) place_on_film(state_.shots[place.shot], place.at);
        }
    });
    reload_shots();
    tell(fmt::format("{} {} put on the film, where the game clock says. [undo] takes that back.", count,
                     shots));
}

} // namespace ropeline
