#include "desk/state/changes/shots.h"

#include "desk/state/changes/clock.h"
#include "desk/state/changes/films.h"
#include "desk/state/changes/fitting.h"
#include "desk/state/changes/marks.h"
#include "desk/state/changes/moments.h"
#include "desk/state/nets.h"
#include "desk/state/reload.h"
#include "desk/state/shot_list.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace ropeline {

namespace {

const char* why_no_shot(const LogContext& log) {
    if (!chosen_film(log.state)) return no_film_is_open;
    if (log.at.image.width_px <= 0)
        return "No picture is on screen, so there is no frame to log a shot on: open the film with [games].";
    if (log.state.goalie_id.empty()) return "Say who is in net first: press [games] and add a goalie.";
    return nullptr;
}

Shot shot_here(const LogContext& log) {
    const LogState& state = log.state;
    Shot shot;
    shot.game_id = state.selection.game_id();
    shot.goalie_id = state.goalie_id;
    shot.film_id = open_film(state);
    shot.frame = log.at.frame;
    shot.pts_ticks = log.at.pts_ticks;
    shot.film_s = log.at.film_s;
    shot.tagged_by = state.season.reviewer;
    for (const ShotEntry& known : state.shots) {
        if (!known.shot.film_id.empty()) shot.period = known.shot.period; // of the last one on a film
    }
    follow_clock(state, shot);
    shot.far_net = likely_far_net(state, shot, log.at.image);
    return shot;
}

/// Where to go on from when no listed shot is open: the nearest one on the film, in film order; by any other
/// order the first or the last of the list.
std::size_t start_of_walk(const LogContext& log, const std::vector<std::size_t>& listed, int steps) {
    const LogState& state = log.state;
    // Shots stand by film, then frame.
    const auto shot_at = [&](std::size_t index) {
        return std::pair{state.shots[index].shot.film_id, state.shots[index].shot.frame};
    };
    const auto here = std::pair{open_film(state), log.at.frame};
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

void remove_shot(LogContext& log, bool pick_next) {
    LogState& state = log.state;
    const std::string name = shot_name(state);
    const Id id = state.selection.shot_id();
    const std::vector<std::size_t> listed = listed_shots(state);
    const auto here = std::ranges::find(listed, *chosen_index(state));
    Id next;
    if (pick_next && here != listed.end() && listed.size() > 1)
        next = state.shots[here + 1 == listed.end() ? *(here - 1) : *(here + 1)].shot.id;
    log.file.change("remove " + name, [&] { log.file.remove_shot(id); });
    reload_shots(log.file, state);
    state.selection.open_shot(next);
    log.tell(fmt::format("Removed {}. [undo] brings it back.", name));
}

} // namespace

void handle(LogContext& log, const NewShot&) {
    LogState& state = log.state;
    if (const char* trouble = why_no_shot(log)) return log.tell(trouble, true);
    for (const ShotEntry& known : state.shots) {
        if (known.shot.film_id != open_film(state) || known.shot.frame != log.at.frame) continue;
        if (known.shot.id != state.selection.shot_id()) state.selection.open_shot(known.shot.id);
        log.tell(fmt::format("Shot {} is already at this frame.", *chosen_index(state) + 1));
        return;
    }
    Shot shot = shot_here(log);
    log.file.change("new shot", [&] {
        log.file.put(shot);
        Moment moment;
        moment.shot_id = shot.id;
        moment.film_id = shot.film_id;
        moment.frame = shot.frame;
        moment.pts_ticks = shot.pts_ticks;
        log.file.put(moment);
    });
    reload_shots(log.file, state);
    state.selection.open_shot(shot.id);
    state.selection.take(Hand::first_skate);
    state.field = CardField::read;
    log.tell_nothing();
}

void handle(LogContext& log, const PickShot& pick) {
    LogState& state = log.state;
    if (pick.index >= state.shots.size()) return;
    const ShotEntry& entry = state.shots[pick.index];
    state.selection.open_shot(entry.shot.id);
    state.field = CardField::read;
    log.tell_nothing();
    const Moment* moment = main_moment(entry);
    const bool on_film = moment && !moment->film_id.empty();
    show_frame(log, on_film ? moment->film_id : entry.shot.film_id,
               moment ? moment->frame : entry.shot.frame);
}

void handle(LogContext& log, const PickShotBy& by) {
    const std::vector<std::size_t> listed = listed_shots(log.state);
    if (listed.empty()) {
        log.tell(log.state.shots.empty()
                     ? "No shots in this game yet: press [new_shot] to log one at this frame."
                     : "No shot of this game has these words: [put_down] clears the filter.");
        return;
    }
    const auto open = chosen_index(log.state);
    const auto now = open ? std::ranges::find(listed, *open) : listed.end();
    if (now == listed.end()) return handle(log, PickShot{start_of_walk(log, listed, by.steps)});
    const auto last = static_cast<std::ptrdiff_t>(listed.size()) - 1;
    const auto wanted = std::clamp<std::ptrdiff_t>(now - listed.begin() + by.steps, 0, last);
    handle(log, PickShot{listed[static_cast<std::size_t>(wanted)]});
}

void handle(LogContext& log, const TakeShot&) {
    LogState& state = log.state;
    if (state.selection.fit()) return handle(log, KeepFit{});
    const ShotEntry* entry = chosen_shot(state);
    if (!entry) return log.tell(no_shot_is_open);
    const auto open = open_fields(*entry);
    const auto number = *chosen_index(state) + 1;
    if (open.empty()) {
        log.tell(fmt::format("Shot {} is kept.", number));
    } else {
        log.tell(fmt::format("Shot {} is kept. Still open: {}.", number, fmt::join(open, ", ")));
    }
    state.selection.open_shot({});
}

void handle(LogContext& log, const RemoveShot& remove) {
    const LogState& state = log.state;
    const ShotEntry* entry = chosen_shot(state);
    if (!entry) return;
    if (remove.whole) return remove_shot(log, true);
    const Moment* moment = moment_in_hand(state);
    const auto held = held_mark(state);
    if (held && moment->marks[*held].kind == MarkKind::threat) return remove_held_mark(log);
    if (moment && moment != main_moment(*entry)) return remove_moment(log);
    remove_shot(log, false);
}

void handle(LogContext& log, const SortList& sort) {
    ListOrder& list = log.state.list;
    list.falling = sort.by == list.by && !list.falling;
    list.by = sort.by;
}

void handle(LogContext& log, const FilterList& list) {
    log.state.list.filter = list.filter;
}

void handle(LogContext& log, const FilterFacts& facts) {
    log.state.list.only = facts.only;
}

} // namespace ropeline
