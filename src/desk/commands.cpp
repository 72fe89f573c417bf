// What each key command does to the desk.
#include "desk/app.h"

#include "film/rgb.h"
#include "season/play.h"

#include <algorithm>

namespace ropeline {

namespace {

void set_text_size(App& app, float factor) {
    constexpr float least_lines = 40.0F; // that a page needs to be of use
    const float fits = std::min(ImGui::GetIO().DisplaySize.y / least_lines, 48.0F);
    const float most = std::max(fits, app.settings.text_px); // a window made small since takes nothing away
    app.settings.text_px = std::clamp(app.settings.text_px * factor, 11.0F, most);
    save_settings(settings_path(), app.settings);
}

void lay_on_paint(App& app) {
    const FitDraft* fit = app.book->state().selection.fit();
    const PicturePtr picture = app.film && fit ? app.film->cached(FrameIndex{fit->frame}) : nullptr;
    if (!picture) {
        app.book->tell("Press [fit_rink] to fit the rink on this frame first; [lay_on_paint] then lays the "
                       "fit onto the painted lines.",
                       true);
        return;
    }
    const RgbPicture rgb = rgb_of(*picture, *app.film->facts());
    std::string why_not;
    const FitDraft draft =
        snapped(*fit, {rgb.bytes.data(), rgb.width_px, rgb.height_px, 3 * rgb.width_px}, why_not);
    app.actions.push_back(ShowFit{draft});
    if (!why_not.empty()) app.book->tell(why_not, true);
}

void open_note(App& app) {
    const ShotEntry* entry = app.book ? chosen_shot(app.book->state()) : nullptr;
    if (!entry) return;
    app.note_text = entry->shot.note;
    app.note_open = true;
}

void open_overrule(App& app) {
    const Moment* moment = app.book ? moment_in_hand(app.book->state()) : nullptr;
    if (!moment) return;
    if (!is_step(*moment)) {
        app.book->tell("What a second camera saw is not judged: pick the first camera's moment with "
                       "[previous_moment] and overrule "
                       "there.",
                       true);
        return;
    }
    app.overrule_text = moment->overrule_reason;
    app.overrule_open = true;
    app.overrule_written = false;
}

void open_clock(App& app, ClockField field) {
    if (!frames_of(app)) {
        app.book->tell("Open a film first: drop one on the desk, or press [games].", true);
        return;
    }
    app.player.playing = false;
    app.clock_field = field;
    app.clock_entry.clear();
    app.clock_sent = false;
}

/// The goalie's marks move to where he was tried on the plan.
void keep_tried(App& app) {
    if (!app.tried) {
        app.book->tell("Drag the goalie on the plan first: [keep_tried] then keeps that place.", true);
        return;
    }
    app.actions.push_back(MoveGoalie{*app.tried});
    app.tried.reset();
}

void put_down(App& app) {
    if (sheet_is_open(app)) {
        app.key_sheet = app.games_page = app.parameters_page = app.note_open = app.overrule_open = false;
        app.clock_field = ClockField::closed;
    } else if (app.list_page && app.side == Side::log) {
        app.list_page.reset();
    } else if (app.side == Side::log && leave_list(app)) {
        return;
    } else if (app.tried) {
        app.tried.reset();
    } else if (app.side == Side::study && app.study) {
        app.study.reset();
    } else if (app.side != Side::log) {
        app.side = Side::log;
    } else {
        app.actions.push_back(PutDown{});
    }
}

/// Commands that work on the open game.
void run_log_command(App& app, Command command) {
    auto& out = app.actions;
    switch (command) {
    case Command::next_shot:
        out.push_back(PickShotBy{1});
        return;
    case Command::previous_shot:
        out.push_back(PickShotBy{-1});
        return;
    case Command::next_film:
        out.push_back(ShowFilmBy{1});
        return;
    case Command::set_clock:
        open_clock(app, ClockField::set);
        return;
    case Command::turn_clock:
        out.push_back(TurnClock{});
        return;
    case Command::go_to_clock:
        open_clock(app, ClockField::go_to);
        return;
    case Command::turn_ends:
        out.push_back(TurnEnds{});
        return;
    case Command::new_shot:
        out.push_back(NewShot{});
        app.player.playing = false;
        return;
    case Command::mark_skates:
        out.push_back(Arm{Hand::first_skate});
        return;
    case Command::mark_goalie:
        out.push_back(Arm{Hand::goalie});
        return;
    case Command::mark_puck:
        out.push_back(Arm{Hand::puck});
        return;
    case Command::mark_threat:
        out.push_back(Arm{Hand::threat});
        return;
    case Command::take_ghosts:
        out.push_back(TakeGhosts{});
        return;
    case Command::one_timer:
        out.push_back(TurnThreat{.one_timer = true});
        return;
    case Command::pass_lane:
        out.push_back(TurnThreat{.open = true});
        return;
    case Command::new_moment:
        out.push_back(NewMoment{});
        app.player.playing = false;
        return;
    case Command::next_moment:
        out.push_back(PickMomentBy{1});
        return;
    case Command::previous_moment:
        out.push_back(PickMomentBy{-1});
        return;
    case Command::moment_kind:
        out.push_back(NextKind{});
        return;
    case Command::overrule:
        open_overrule(app);
        return;
    case Command::keep_tried:
        keep_tried(app);
        return;
    case Command::next_field:
        out.push_back(FocusBy{1});
        return;
    case Command::previous_field:
        out.push_back(FocusBy{-1});
        return;
    case Command::write_note:
        open_note(app);
        return;
    case Command::take_shot:
        out.push_back(TakeShot{});
        return;
    case Command::remove:
        if (const FitDraft* fit = app.book->state().selection.fit(); fit && !fit->clicks.empty()) {
            out.push_back(RemoveClick{fit->clicks.size() - 1});
        } else {
            out.push_back(RemoveShot{});
        }
        return;
    case Command::fit_rink:
        out.push_back(BeginFit{});
        app.player.playing = false;
        return;
    case Command::lay_on_paint:
        lay_on_paint(app);
        return;
    case Command::follow_rink:
        app.carry_wanted = !app.carry_wanted;
        if (!app.carry_wanted) app.carry.reset();
        return;
    case Command::other_landmark:
        out.push_back(OfferOther{});
        return;
    case Command::nudge_left:
        out.push_back(Nudge{-0.25, 0.0});
        return;
    case Command::nudge_right:
        out.push_back(Nudge{0.25, 0.0});
        return;
    case Command::nudge_up:
        out.push_back(Nudge{0.0, -0.25});
        return;
    case Command::nudge_down:
        out.push_back(Nudge{0.0, 0.25});
        return;
    case Command::undo:
        out.push_back(Undo{});
        return;
    case Command::redo:
        out.push_back(Redo{});
        return;
    case Command::frame_on:
    case Command::frame_back:
    case Command::ten_on:
    case Command::ten_back:
    case Command::second_on:
    case Command::second_back:
    case Command::run_film:
    case Command::run_film_back:
    case Command::slower:
    case Command::loop_shot:
    case Command::ribbon_closer:
    case Command::ribbon_wider:
    case Command::mute:
    case Command::magnify:
    case Command::whole_picture:
    case Command::shot_is_here:
    case Command::find_shots:
    case Command::whole_list:
    case Command::sort_list:
    case Command::turn_list:
    case Command::who_in_net:
    case Command::games:
    case Command::parameters:
    case Command::side_log:
    case Command::side_study:
    case Command::side_season:
    case Command::key_sheet:
    case Command::guide:
    case Command::larger_text:
    case Command::smaller_text:
    case Command::light_or_dark:
    case Command::put_down:
        break;
    }
}

bool takes_film_keys(const App& app) {
    return app.book && app.side == Side::log && !sheet_is_open(app) && !app.list_page && !app.list.whole_page;
}

} // namespace

bool sheet_is_open(const App& app) {
    return app.games_page || app.parameters_page || app.key_sheet || app.note_open || app.overrule_open ||
           app.clock_field != ClockField::closed;
}

void hold_step(App& app, int way) {
    if (!takes_film_keys(app)) return;
    app.step_held = way;
    app.step_held_s = 0.0;
}

void let_go_of_step(App& app) {
    if (app.step_held != 0 && app.step_held_s >= hold_to_run_s) app.player = held(app.player);
    app.step_held = 0;
}

void run_command(App& app, Command command) {
    switch (command) {
    case Command::key_sheet:
        app.key_sheet = !app.key_sheet;
        return;
    case Command::larger_text:
        set_text_size(app, 1.125F);
        return;
    case Command::smaller_text:
        set_text_size(app, 1.0F / 1.125F);
        return;
    case Command::light_or_dark:
        app.settings.dark = !app.settings.dark;
        save_settings(settings_path(), app.settings);
        return;
    case Command::put_down:
        put_down(app);
        return;
    default:
        break;
    }
    if (!app.book) {
        if (command == Command::take_shot) create_season(app);
        return;
    }
    switch (command) {
    case Command::games:
        app.games_page = !app.games_page;
        app.parameters_page = false;
        return;
    case Command::parameters:
        app.parameters_page = !app.parameters_page;
        app.games_page = false;
        return;
    case Command::guide:
        if (app.guide) {
            app.guide.reset();
        } else {
            start_guide(app);
        }
        return;
    case Command::side_log:
        app.side = Side::log;
        return;
    case Command::side_study:
        app.side = Side::study;
        return;
    case Command::side_season:
        app.side = Side::season;
        return;
    default:
        break;
    }
    if (app.list_page && app.side == Side::log && !app.games_page && !app.parameters_page && !app.key_sheet)
        return run_list_page_command(app, command);
    if (sheet_is_open(app)) return;
    if (app.side == Side::study && app.study) {
        if (command == Command::take_shot && app.study->phase == StudyPhase::answer) next_study(app);
        if (command == Command::run_film) run_up_again(app);
    } else if (app.side == Side::study && command == Command::take_shot) {
        begin_study_unanswered(app);
    }
    if (app.side == Side::log && (run_list_command(app, command) || run_film_command(app, command))) return;
    const bool everywhere = command == Command::undo || command == Command::redo;
    if (app.side == Side::log || everywhere) run_log_command(app, command);
}

} // namespace ropeline
