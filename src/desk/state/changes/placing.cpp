#include "desk/state/changes/placing.h"

#include "desk/state/changes/clock.h"
#include "desk/state/changes/play_figures.h"
#include "desk/state/nets.h"
#include "desk/state/reload.h"
#include "desk/state/shot_list.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

/// "Shot 3", at the beginning of a sentence.
std::string capital_shot_name(const LogState& state) {
    std::string name = shot_name(state);
    name.front() = 'S';
    return name;
}

/// On the film on screen, in the change under way.
void place_on_film(LogContext& log, const Film& film, ShotEntry& entry, const FrameAt& at) {
    Shot& shot = entry.shot;
    shot.film_id = film.id;
    shot.frame = at.frame;
    shot.pts_ticks = at.pts_ticks;
    shot.film_s = at.film_s;
    follow_clock(log.state, shot);
    shot.far_net = likely_far_net(log.state, shot, film.shown);
    if (entry.moments.empty()) entry.moments.emplace_back();
    log.file.put(shot);
    for (Moment& moment : entry.moments) {
        moment.shot_id = shot.id;
        moment.film_id = shot.film_id;
        moment.frame = at.frame;
        moment.pts_ticks = at.pts_ticks;
        log.file.put(moment);
    }
}

ShotEntry entry_of(const ComingShot& coming, const Id& game_id) {
    ShotEntry entry;
    Shot& shot = entry.shot;
    shot.game_id = game_id;
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
    return entry;
}

} // namespace

bool has_its_place(const LogContext& log, const ShotEntry& entry) {
    if (!has_no_place(log.state, entry.shot)) return true;
    log.tell(fmt::format("{} has no place on the film yet: step to its frame and press [shot_is_here].",
                         capital_shot_name(log.state)),
             true);
    return false;
}

void handle(LogContext& log, const PlaceShotHere&) {
    LogState& state = log.state;
    ShotEntry* entry = shot_to_change(state);
    const Film* film = chosen_film(state);
    if (!entry) {
        log.tell("No shot is open: pick the one in the list that is at this frame.", true);
        return;
    }
    if (!film) return log.tell(no_film_is_open, true);
    if (!entry->shot.film_id.empty()) {
        log.tell(fmt::format("{} has its place on the film already. Marking it on another frame moves it.",
                             capital_shot_name(state)),
                 true);
        return;
    }
    const Id id = entry->shot.id;
    log.file.change("place on the film, " + shot_name(state),
                    [&] { place_on_film(log, *film, *entry, log.at); });
    reload_shots(log.file, state);
    state.selection.open_shot(id);
    state.selection.take(Hand::first_skate);
    log.tell_nothing();
}

std::size_t marks_left_behind(const ShotEntry& entry) {
    const Moment* release = main_moment(entry);
    if (!release || release->film_id != entry.shot.film_id) return 0;
    return static_cast<std::size_t>(
        std::ranges::count_if(release->marks, [](const Mark& mark) { return mark.at.has_value(); }));
}

void handle(LogContext& log, const MoveShot& move) {
    LogState& state = log.state;
    const auto entry =
        std::ranges::find(state.shots, move.shot_id, [](const ShotEntry& one) { return one.shot.id; });
    if (entry == state.shots.end() || entry->shot.film_id != open_film(state)) return;
    state.selection.open_shot(move.shot_id);
    const Moment* release = main_moment(*entry);
    for (Moment& moment : entry->moments) {
        if (&moment != release) continue;
        moment.frame = move.to.frame;
        moment.pts_ticks = move.to.pts_ticks;
        std::erase_if(moment.marks, [](const Mark& mark) { return mark.at.has_value(); });
    }
    Shot& shot = entry->shot;
    shot.frame = move.to.frame;
    shot.pts_ticks = move.to.pts_ticks;
    shot.film_s = move.to.film_s;
    follow_clock(state, shot);
    for (Moment& moment : entry->moments)
        work_out(state, shot, moment);
    const std::string name = shot_name(state);
    keep_play(log, fmt::format("move {} to frame {}", name, move.to.frame), *entry,
              [&] { log.file.put(entry->shot); });
    reload_shots(log.file, state);
    state.selection.open_shot(move.shot_id);
    state.selection.go_to_frame(move.to.frame);
    state.selection.take(Hand::first_skate);
    log.tell(fmt::format("Moved {} to frame {}. [undo] takes that back.", name, move.to.frame));
}

void handle(LogContext& log, const BringIn& list) {
    LogState& state = log.state;
    if (!chosen_game(state) || list.shots.empty()) return;
    const std::string count = fmt::format("{} shot{}", list.shots.size(), list.shots.size() == 1 ? "" : "s");
    const Film* film = chosen_film(state);
    std::size_t placed = 0;
    log.file.change(fmt::format("{} from {}", count, list.from), [&] {
        for (const ComingShot& coming : list.shots) {
            ShotEntry entry = entry_of(coming, state.selection.game_id());
            entry.shot.tagged_by = state.season.reviewer;
            if (coming.at && film) {
                place_on_film(log, *film, entry, *coming.at);
                ++placed;
                continue;
            }
            log.file.put(entry.shot);
            entry.moments.front().shot_id = entry.shot.id;
            log.file.put(entry.moments.front());
        }
    });
    state.selection.open_shot({});
    reload_shots(log.file, state);
    log.tell(fmt::format("{} brought in from {}, {}. [undo] takes them all out again.", count, list.from,
                         placed == list.shots.size() ? std::string{"all with their place on the film"}
                                                     : fmt::format("{} of them with no place on the film yet",
                                                                   list.shots.size() - placed)));
}

void handle(LogContext& log, const PutOnFilm& found) {
    LogState& state = log.state;
    const Film* film = chosen_film(state);
    if (!film || found.places.empty()) return;
    const std::size_t count = found.places.size();
    const char* shots = count == 1 ? "shot" : "shots";
    log.file.change(fmt::format("{} {} put where the clock says", count, shots), [&] {
        for (const FoundPlace& place : found.places) {
            if (place.shot < state.shots.size()) place_on_film(log, *film, state.shots[place.shot], place.at);
        }
    });
    reload_shots(log.file, state);
    log.tell(fmt::format("{} {} put on the film, where the game clock says. [undo] takes that back.", count,
                         shots));
}

} // namespace ropeline
