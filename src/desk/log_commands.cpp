// What the keys do to the log: marks, card, moments, rink fit, clock.
#include "desk/commands.h"

#include "film/rgb.h"
#include "season/play.h"

#include <utility>

namespace ropeline {

void ask(App& app, LogAction action) {
    app.actions.emplace_back(std::move(action));
}

void ask_and_hold(App& app, LogAction action) {
    ask(app, std::move(action));
    app.stage.player.playing = false;
}

void focus_on(App& app, int steps) {
    if (!app.list.whole_page) return ask(app, FocusBy{steps});
    // The whole page shows the lines of the card but the cues, which belong to the film.
    int now = static_cast<int>(app.log.state().field);
    for (const DeskAction& waiting : app.actions) { // several keys may come in one turn
        const auto* of_log = std::get_if<LogAction>(&waiting);
        const auto* focus = of_log ? std::get_if<Focus>(of_log) : nullptr;
        if (focus) now = static_cast<int>(focus->field);
    }
    const int wanted = ((now + steps) % asked_fields + asked_fields) % asked_fields;
    ask(app, Focus{static_cast<CardField>(wanted)});
}

void keep_tried(App& app) {
    if (!app.log.tried)
        return tell(app, "Drag the goalie on the plan first: [keep_tried] then keeps that place.", true);
    ask(app, MoveGoalie{*app.log.tried});
    app.log.tried.reset();
}

void lay_on_paint(App& app) {
    const FitDraft* fit = app.log.state().selection.fit();
    const PicturePtr picture =
        app.stage.film && fit ? app.stage.film->cached(FrameIndex{fit->frame}) : nullptr;
    if (!picture)
        return tell(app,
                    "Press [fit_rink] to fit the rink on this frame first; [lay_on_paint] then lays the fit "
                    "onto the painted lines.",
                    true);
    const RgbPicture rgb = rgb_of(*picture, *app.stage.film->facts());
    std::string why_not;
    const FitDraft draft =
        snapped(*fit, {rgb.bytes.data(), rgb.width_px, rgb.height_px, 3 * rgb.width_px}, why_not);
    ask(app, ShowFit{draft});
    if (!why_not.empty()) tell(app, why_not, true);
}

void open_clock(App& app, ClockField field) {
    if (!frames_of(app.stage))
        return tell(app, "Open a film first: drop one on the desk, or press [games].", true);
    app.stage.player.playing = false;
    app.pages.clock = {field, {}, false};
}

void open_note(App& app) {
    const ShotEntry* entry = chosen_shot(app.log.state());
    if (!entry) return;
    app.pages.card.note = entry->shot.note;
    app.pages.card.note_open = true;
}

void open_overrule(App& app) {
    const Moment* moment = moment_in_hand(app.log.state());
    if (!moment) return;
    if (!is_step(*moment))
        return tell(app,
                    "What a second camera saw is not judged: pick the first camera's moment with "
                    "[previous_moment] and overrule there.",
                    true);
    app.pages.overrule = {true, moment->overrule_reason, false};
}

void unfold(App& app) {
    if (!chosen_shot(app.log.state()))
        return tell(app, "No shot is open: pick one with [previous_shot] and [next_shot] first.", true);
    turn(app.pages.unfolded);
}

void remove_in_hand(App& app) {
    const FitDraft* fit = app.log.state().selection.fit();
    if (app.list.whole_page) {
        ask(app, RemoveShot{.whole = true});
    } else if (fit && !fit->clicks.empty()) {
        ask(app, RemoveClick{fit->clicks.size() - 1});
    } else {
        ask(app, RemoveShot{});
    }
}

void shot_or_reading_on(App& app, int steps) {
    const Place place = place_of_keys(app);
    if (place == Place::studying) return go_to_decision(app, steps);
    if (place != Place::scorer_list) return ask(app, PickShotBy{steps});
    turn_column(*app.scorer_list, steps);
    read_again(*app.scorer_list, app.log.state(), frames_of(app.stage).get());
}

namespace {

void take_list(App& app) {
    ScorerList& list = *app.scorer_list;
    if (list.coming.shots.empty())
        return tell(app, "No row of this list can come in: look at why beside it, or [put_down] leaves it.",
                    true);
    ask(app, BringIn{list.name, std::move(list.coming.shots)});
    app.scorer_list.reset();
}

void take_whole_list(App& app) {
    app.list.whole_page = false;
    if (const auto shot = chosen_index(app.log.state())) ask(app, PickShot{*shot});
}

void take_study(App& app) {
    if (app.study.sum_page) {
        app.study.sum_page = false;
    } else if (!app.study.turn) {
        begin_first(app);
    } else if (is_answered(app.study.turn)) {
        go_to_decision(app, 1);
    }
}

} // namespace

void take_in(App& app) {
    switch (place_of_keys(app)) {
    case Place::asking:
        return move_as_asked(app);
    case Place::start_page:
        return ask_for_season(app);
    case Place::scorer_list:
        return take_list(app);
    case Place::study:
    case Place::studying:
        return take_study(app);
    case Place::whole_list:
        return take_whole_list(app);
    default:
        return ask(app, TakeShot{});
    }
}

} // namespace ropeline
