#include "desk/state/changes/play_figures.h"

#include "desk/state/rink_here.h"
#include "season/derive.h"
#include "season/play.h"

#include <fmt/core.h>

namespace ropeline {

namespace {

/// Skates may be clicked in either order: the goalie faces the puck, so the left skate is the one on the left
/// of the line from the goalie to the puck as the goalie sees it. True when they were swapped.
bool order_skates(Moment& moment) {
    const Mark* left = find_mark(moment, MarkKind::skate_left);
    const Mark* right = find_mark(moment, MarkKind::skate_right);
    const Mark* puck = find_mark(moment, MarkKind::puck);
    if (!left || !right || !puck || !left->ice || !right->ice || !puck->ice) return false;
    const IcePoint middle = (*left->ice + *right->ice) * 0.5;
    if (cross(*puck->ice - middle, *left->ice - middle) >= 0.0) return false;
    for (Mark& mark : moment.marks) {
        if (mark.kind == MarkKind::skate_left) {
            mark.kind = MarkKind::skate_right;
        } else if (mark.kind == MarkKind::skate_right) {
            mark.kind = MarkKind::skate_left;
        }
    }
    return true;
}

void name_fit(LogContext& log, Moment& moment) {
    if (moment.film_id != open_film(log.state)) return; // it rests on what it rested on
    name_fit(log.file, fit_here(log.state, moment.frame), log.state.fits, moment);
}

} // namespace

void work_out(const LogState& state, const Shot& shot, Moment& moment) {
    const FitHere here = fit_for(state, shot, moment);
    const RuleBookId rules = here.key ? here.key->rules : game_rules(state);
    if (!here.fit) {
        // Positions that came from a fit that is gone or lost would be stale; those that came without pixels
        // stay.
        for (Mark& mark : moment.marks) {
            if (!mark.at) continue;
            mark.ice.reset();
            mark.sigma.reset();
        }
    }
    derive(moment, here.fit ? &*here.fit : nullptr, rule_book(rules), state.season.parameters);
}

void judge_play(const LogState& state, ShotEntry& entry) {
    const Moment* about = main_moment(entry);
    if (about) judge(entry.shot, entry.moments, rule_book(rules_for(state, *about)), state.season.parameters);
}

void keep_moment(LogContext& log, const std::string& name) {
    ShotEntry* entry = shot_to_change(log.state);
    Moment* moment = moment_to_change(log.state);
    if (!moment) return;
    work_out(log.state, entry->shot, *moment);
    if (order_skates(*moment)) work_out(log.state, entry->shot, *moment);
    judge_play(log.state, *entry);
    log.file.change(fmt::format("{}, {}", name, shot_name(log.state)), [&] {
        name_fit(log, *moment);
        for (Moment& one : entry->moments)
            log.file.put(one);
        log.file.put(entry->shot);
    });
    if (moment->film_id == open_film(log.state)) log.state.fits = log.file.rink_fits(moment->film_id);
}

void keep_play(LogContext& log, const std::string& name, ShotEntry& entry,
               const std::function<void()>& also) {
    judge_play(log.state, entry);
    log.file.change(name, [&] {
        also();
        for (Moment& moment : entry.moments)
            log.file.put(moment);
    });
}

void work_film_out(LogContext& log) {
    const Id& film_id = open_film(log.state);
    for (ShotEntry& entry : log.state.shots) {
        for (Moment& moment : entry.moments) {
            if (moment.film_id != film_id || moment.marks.empty()) continue;
            work_out(log.state, entry.shot, moment);
            name_fit(log, moment);
        }
        judge_play(log.state, entry);
        for (Moment& moment : entry.moments)
            log.file.put(moment);
    }
}

} // namespace ropeline
