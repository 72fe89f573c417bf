#include "desk/state/changes/card_lines.h"

#include "desk/state/changes/clock.h"
#include "desk/state/changes/logged.h"
#include "desk/state/changes/moments.h"
#include "desk/state/changes/play_figures.h"
#include "desk/state/reload.h"
#include "season/derive.h"
#include "season/own_figures.h"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace ropeline {

void handle(LogContext& log, const Choose& choose) {
    handle(log, ChooseIn{log.state.field, choose.number});
}

void handle(LogContext& log, const ChooseIn& choose) {
    LogState& state = log.state;
    ShotEntry* entry = shot_to_change(state);
    if (!entry) {
        log.tell("No shot is open: press [new_shot] to log one at this frame, or [previous_shot] and "
                 "[next_shot] to pick one.",
                 true);
        return;
    }
    const CardField field = choose.field;
    state.selection.go_on();
    if (choose.number < 1 || choose.number > static_cast<int>(choices_of(field).size())) return;
    if (field == CardField::cues) return turn_cue(log, static_cast<std::size_t>(choose.number - 1));
    if (const auto detail = detail_in(field)) return choose_detail(log, *detail, choose.number);
    toggle_choice(entry->shot, field, choose.number);
    keep_play(log, fmt::format("{}, {}", label_of(field), shot_name(state)), *entry,
              [&] { log.file.put(entry->shot); });
    state.field = field;
    if (chosen_in(entry->shot, field) != 0 && field != CardField::outcome)
        state.field = static_cast<CardField>(static_cast<int>(field) + 1);
    log.tell_nothing();
}

void handle(LogContext& log, const Focus& focus) {
    log.state.field = focus.field;
}

void handle(LogContext& log, const FocusBy& by) {
    const auto shown = shown_fields(log.state.asks);
    const auto count = static_cast<int>(shown.size());
    const auto now = static_cast<int>(std::ranges::find(shown, log.state.field) - shown.begin());
    log.state.field = shown[static_cast<std::size_t>(((now + by.steps) % count + count) % count)];
}

void handle(LogContext& log, const WriteNote& note) {
    ShotEntry* entry = shot_to_change(log.state);
    if (!entry || entry->shot.note == note.text) return;
    entry->shot.note = note.text;
    log.file.change("note, " + shot_name(log.state), [&] { log.file.put(entry->shot); });
}

void handle(LogContext& log, const PutClock& clock) {
    ShotEntry* entry = shot_to_change(log.state);
    if (!entry) return;
    if (clock.period || !clock.clock_s) entry->shot.period = clock.period;
    entry->shot.clock_s = clock.clock_s;
    entry->shot.clock_from_marks = false;
    follow_clock(log.state, entry->shot);
    log.file.change("game clock, " + shot_name(log.state), [&] { log.file.put(entry->shot); });
}

void handle(LogContext& log, const PickGoalie& pick) {
    log.state.goalie_id = pick.id;
    ShotEntry* entry = shot_to_change(log.state);
    if (!entry || entry->shot.goalie_id == pick.id) return;
    const LogState& state = log.state;
    const auto figures = [&] {
        const Parameters own = parameters_of(state.season.parameters, state.goalies, entry->shot.goalie_id);
        return std::pair{own.block_width_m, own.lateral_speed_mps};
    };
    const auto before = figures();
    entry->shot.goalie_id = pick.id;
    log.file.change("goalie, " + shot_name(log.state), [&] { log.file.put(entry->shot); });
    if (figures() == before) return;
    recompute(log.file, entry->shot.game_id, {entry->shot.id});
    reload_shots(log.file, log.state);
}

void handle(LogContext& log, const PutInNet& put) {
    log.state.goalie_id = put.id;
}

} // namespace ropeline
