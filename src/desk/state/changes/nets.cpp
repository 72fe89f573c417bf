#include "desk/state/changes/nets.h"

#include "desk/state/changes/play_figures.h"
#include "desk/state/rink_here.h"
#include "season/play.h"
#include "sheet/ice_drawing.h"

#include <fmt/core.h>

namespace ropeline {

void warn_of_far_net(const LogContext& log, const ShotEntry& entry, const Moment& moment) {
    const auto goalie = goalie_place(moment);
    if (!goalie || !is_step(moment)) return;
    if (goalie->y_m <= rule_book(rules_for(log.state, moment)).red_line_centre.m) return;
    log.tell(
        fmt::format(
            "The goalie stands nearer to the other net: [turn_ends] says that the shot is at the {} one.",
            entry.shot.far_net ? "near" : "far"),
        true);
}

void handle(LogContext& log, const TurnEnds&) {
    LogState& state = log.state;
    ShotEntry* entry = shot_to_change(state);
    if (!entry) {
        log.tell(
            "No shot is open: pick one with [previous_shot] and [next_shot], then [turn_ends] turns it to "
            "the other net.",
            true);
        return;
    }
    entry->shot.far_net = !entry->shot.far_net;
    for (Moment& moment : entry->moments)
        work_out(state, entry->shot, moment);
    const std::string net = entry->shot.far_net ? "far" : "near";
    keep_play(log, fmt::format("{} net, {}", net, shot_name(state)), *entry,
              [&] { log.file.put(entry->shot); });
    log.tell(fmt::format("The goalie of {} defends the {} net of the rink fit.", shot_name(state), net));
    if (const Moment* about = main_moment(*entry)) warn_of_far_net(log, *entry, *about);
}

} // namespace ropeline
