// What the keys do to the desk as a whole: sides, pages, look, and the number keys wherever they choose.
#include "desk/choices.h"
#include "desk/commands.h"

#include <fmt/core.h>
#include <imgui.h>

#include <algorithm>

namespace ropeline {

namespace {

/// A trouble belongs to the page that it was told on, and so does what is told of a shot, a mark, a fit.
void leave_notice(App& app) {
    if (!app.log.book) return;
    const Notice& notice = app.log.state().notice;
    if (notice.trouble || notice.of_log) tell(app, "", false);
}

} // namespace

void put_down(App& app) {
    if (app.chooser) {
        app.chooser.reset();
    } else if (app.log.menu) {
        app.log.menu.reset();
    } else if (app.exports.voice) {
        drop_voice(app);
    } else if (app.exports.open) {
        app.exports.open = false;
    } else if (app.unite.open) {
        app.unite.open = false;
    } else if (any_open(app.pages)) {
        close_all(app.pages);
    } else if (app.scorer_list && app.side == Side::log) {
        app.scorer_list.reset();
    } else if (app.log.book && app.side == Side::log && leave_list(app)) {
        return;
    } else if (app.log.tried) {
        app.log.tried.reset();
    } else if (app.side == Side::study && app.study.turn) {
        leave_study(app);
    } else if (app.side == Side::study && app.study.sum_page) {
        app.study.sum_page = false;
    } else if (app.side != Side::log) {
        app.side = Side::log;
    } else {
        ask(app, PutDown{});
    }
}

void set_text_size(App& app, float factor) {
    app.settings.text_px = type_sizes(ImGui::GetIO().DisplaySize.y, app.look.unit * factor).body;
    save_settings(settings_path(), app.settings);
}

void turn_light(App& app) {
    turn(app.settings.dark);
    save_settings(settings_path(), app.settings);
}

void turn_motion(App& app) {
    turn(app.settings.motion);
    save_settings(settings_path(), app.settings);
    tell(app, app.settings.motion ? "The picture moves in on a play." : "The picture jumps in on a play.",
         false);
}

void turn_lengths(App& app) {
    app.settings.lengths = static_cast<LengthUnit>((static_cast<int>(app.settings.lengths) + 1) % 3);
    save_settings(settings_path(), app.settings);
    tell(app, fmt::format("Lengths are in {} now.", label_of(app.settings.lengths)), false);
}

void turn(bool& on) {
    on = !on;
}

void show_side(App& app, Side side) {
    if (side != app.side) leave_notice(app);
    if (side != Side::log) {
        close_log_fields(app.pages);
        app.log.menu.reset();
    }
    app.side = side;
}

void turn_start_page(App& app) {
    if (app.chooser) return;
    if (app.pages.start) {
        app.pages.start = false;
    } else {
        leave_notice(app);
        show_start_page(app);
    }
}

void turn_games_page(App& app) {
    turn(app.pages.games);
    app.pages.parameters = app.pages.what_we_log = false;
}

void turn_parameters_page(App& app) {
    turn(app.pages.parameters);
    app.pages.games = app.pages.what_we_log = false;
}

void turn_what_we_log(App& app) {
    turn(app.pages.what_we_log);
    app.pages.games = app.pages.parameters = false;
}

void turn_guide(App& app) {
    if (app.guide) {
        app.guide.reset();
    } else {
        start_guide(app);
    }
}

namespace {

void choose_in_study(App& app, int number) {
    const Place place = place_of_keys(app);
    if (place == Place::study && !app.study.sum_page && number <= study_whats)
        app.study.filter.what = static_cast<StudyWhat>(number - 1);
    if (place != Place::studying) return;
    if (app.study.turn->phase == StudyPhase::sure) {
        if (number <= 3) answer_sure(app, static_cast<Sureness>(number - 1));
    } else if (number <= 2) {
        answer_call(app, number == 1 ? Read::shot : Read::pass);
    }
}

} // namespace

void undo_here(App& app) {
    app.side == Side::study ? undo_study(app) : ask(app, Undo{});
}

void redo_here(App& app) {
    app.side == Side::study ? redo_study(app) : ask(app, Redo{});
}

void choose_number(App& app, int number) {
    if (start_page_shown(app)) {
        app.actions.push_back(OpenRecent{static_cast<std::size_t>(number - 1)});
        return;
    }
    if (app.side == Side::study) return choose_in_study(app, number);
    if (app.scorer_list && app.side == Side::log) {
        app.actions.push_back(TurnListSwitch{number});
    } else if (app.list.open) {
        choose_in_open_cell(app.log.state(), app.list, app.actions, number);
    } else if (app.pages.overrule.open) {
        const auto index = static_cast<std::size_t>(number - 1);
        if (index < reviewer_verdicts.size())
            overrule_verdict(app.pages.overrule, app.actions, reviewer_verdicts.at(index));
    } else if (app.side == Side::log) {
        ask(app, Choose{number});
    }
}

} // namespace ropeline
