// One turn of the whole desk: which panels stand where on each side.
#include "desk/app.h"
#include "desk/panels/chooser_sheet.h"
#include "desk/panels/decision.h"
#include "desk/panels/exports_page.h"
#include "desk/panels/film_view.h"
#include "desk/panels/fit_card.h"
#include "desk/panels/games_page.h"
#include "desk/panels/guide.h"
#include "desk/panels/header.h"
#include "desk/panels/headline.h"
#include "desk/panels/key_sheet.h"
#include "desk/panels/key_strip.h"
#include "desk/panels/move_sheet.h"
#include "desk/panels/parameters_page.h"
#include "desk/panels/plan.h"
#include "desk/panels/question.h"
#include "desk/panels/ribbon.h"
#include "desk/panels/scorer_list.h"
#include "desk/panels/season_side.h"
#include "desk/panels/shot_card.h"
#include "desk/panels/shot_list.h"
#include "desk/panels/start_page.h"
#include "desk/panels/study_side.h"
#include "desk/panels/unite_page.h"
#include "desk/panels/what_we_log.h"
#include "desk/state/log_shape.h"

#include <algorithm>

namespace ropeline {

namespace {

Panel at(App& app, const Rect& place) {
    return {app.look, place, app.actions};
}

void draw_guide_at(const App& app, const Rect& place) {
    draw_guide(app.look, place, *app.guide, app.log.state(), app.season.answers.size());
}

/// The guide takes the foot of a place while the first ten minutes last. Out: what is left over it.
Rect over_guide(const App& app, const Rect& place, float share) {
    if (!app.guide) return place;
    const float tall = share * place.height;
    draw_guide_at(app, {place.x, place.y + place.height - tall, place.width, tall});
    return {place.x, place.y, place.width, place.height - tall - 0.5F * app.look.unit};
}

/// What is made of the shots takes the foot of a place. Out: what is left over it.
Rect over_exports(App& app, const Rect& place, const char* name) {
    const float tall = ImGui::GetFrameHeight() + 2.0F * ImGui::GetStyle().WindowPadding.y + 1.0F;
    const Rect foot{place.x, place.y + place.height - tall, place.width, tall};
    begin_panel(name, foot, app.look.colours.panel);
    draw_export_button(at(app, foot), app.exports);
    ImGui::End();
    return {place.x, place.y, place.width, place.height - tall};
}

/// Beside the film while no shot is open: what to do next, where there is something to say, over the list.
void draw_film_side(App& app, const Rect& side) {
    const LogState& log = app.log.state();
    Rect list = over_guide(app, side, 0.5F);
    if (!app.guide && (log.shots.empty() || (chosen_film(log) && log.fits.empty()))) {
        const float tall = std::min(15.0F * app.look.unit, 0.5F * list.height);
        draw_what_next(at(app, {list.x, list.y, list.width, tall}), log);
        list = {list.x, list.y + tall + 0.5F * app.look.unit, list.width,
                list.height - tall - 0.5F * app.look.unit};
    }
    draw_shot_list(at(app, over_exports(app, list, "log exports")), log, app.list);
}

/// Beside the film while something is to be marked; the words of a search are still typed into the list.
void draw_marking_side(App& app, const Rect& side) {
    if (app.list.typing || app.list.find || app.list.open) return draw_film_side(app, side);
    const Rect room = over_guide(app, side, 0.42F);
    if (app.pages.unfolded || app.pages.overrule.open)
        return draw_unfolded(at(app, room), app.log, app.pages);
    draw_marking(at(app, room), app.log, app.pages);
}

/// Crease and verdict are the heroes; what is asked for unfolds in the crease's place.
void draw_opened_moment(App& app, const LogLayout& layout) {
    draw_headline(at(app, layout.headline), app.log);
    const Rect room = over_guide(app, layout.plan, 0.4F);
    if (app.pages.unfolded || app.pages.overrule.open) {
        draw_unfolded(at(app, room), app.log, app.pages);
    } else {
        draw_plan(at(app, room), app.log);
    }
    draw_question(at(app, layout.question), app.log.state(), app.pages);
}

KeyStrip strip_of(const App& app, LogShape shape) {
    if (shape == LogShape::film) return KeyStrip::film;
    if (shape != LogShape::fit) return KeyStrip::shot;
    const FitDraft& fit = *app.log.state().selection.fit();
    return fit.proposed && !fit.fit ? KeyStrip::proposal : KeyStrip::fit;
}

void draw_log_side(App& app, const LogLayout& layout, LogShape shape) {
    draw_film_view(at(app, layout.film), app.stage, app.log, app.pages.clock, PictureUse::marking);
    draw_ribbon(at(app, layout.ribbon), app.stage, app.log.state());
    switch (shape) {
    case LogShape::film:
        draw_film_side(app, layout.side);
        break;
    case LogShape::marking:
        draw_marking_side(app, layout.side);
        break;
    case LogShape::moment:
        draw_opened_moment(app, layout);
        break;
    case LogShape::fit:
        draw_fit_plan(at(app, layout.fit_plan), *app.log.state().selection.fit(), app.log.view);
        draw_fit_card(at(app, layout.fit_card), app.log, *app.log.state().selection.fit(),
                      app.stage.proposal.work != nullptr);
        break;
    }
    draw_key_strip(at(app, layout.keys), strip_of(app, shape));
}

/// The Log side, or one of the pages that take its room.
void draw_log(App& app, const LogLayout& layout, LogShape shape, const Rect& page) {
    const Rect room{page.x, page.y, page.width, page.height - layout.keys.height};
    if (app.scorer_list) {
        const auto frames = frames_of(app.stage);
        draw_scorer_list(at(app, room), app.log.state(), *app.scorer_list,
                         frames ? frames->seconds_of(FrameIndex{0}) : 0.0);
        draw_key_strip(at(app, layout.keys), KeyStrip::scorer_list);
    } else if (app.list.whole_page) {
        draw_list_page(at(app, room), app.log.state(), app.list);
        draw_key_strip(at(app, layout.keys), KeyStrip::whole_list);
    } else {
        draw_log_side(app, layout, shape);
    }
}

/// One decision under study.
void draw_study_turn(App& app, const Rect& page) {
    const Look& look = app.look;
    const StudyTurn turn = *app.study.turn;
    const bool answered = is_answered(turn);
    const StudyLayout layout =
        study_layout(page.width, page.y + page.height, look.unit, answered, turn.on_film);
    if (turn.on_film) {
        draw_film_view(at(app, layout.film), app.stage, app.log, app.pages.clock,
                       answered ? PictureUse::looking : PictureUse::answer_hidden);
        draw_study_ribbon(at(app, layout.ribbon), app.stage, app.log, turn);
    }
    if (answered) draw_decision(at(app, layout.decision), app.log);
    draw_study_card(at(app, layout.card), app.log, app.settings, app.study);
    draw_study_plan(at(app, layout.plan), app.log, turn);
    draw_key_strip(at(app, layout.keys), answered ? KeyStrip::study_answer : KeyStrip::study);
}

void draw_study(App& app, const Rect& page) {
    if (app.study.turn) return draw_study_turn(app, page);
    const float keys = 2.0F * app.look.unit;
    const float guide_height = app.guide ? std::min(12.0F * app.look.unit, 0.4F * page.height) : 0.0F;
    const Rect room{page.x, page.y, page.width, page.height - guide_height - keys};
    if (app.study.sum_page) {
        draw_study_sum(at(app, room), app.settings, app.study);
    } else {
        draw_study_list(at(app, room), app.log.state(), app.settings, app.study, app.exports);
    }
    if (app.guide) draw_guide_at(app, {page.x, room.y + room.height, page.width, guide_height});
    draw_key_strip(at(app, {page.x, page.y + page.height - keys, page.width, keys}), KeyStrip::study_list);
}

/// While the list is searched or a cell of it is open it stands beside the film, whatever shot is open.
LogShape log_shape_with(const App& app) {
    const LogShape shape = log_shape(app.log.state());
    const bool in_list = app.list.typing || app.list.find || app.list.open;
    return shape == LogShape::moment && in_list ? LogShape::marking : shape;
}

} // namespace

void draw_desk(App& app, float width, float height) {
    app.look.lengths = app.settings.lengths;
    const float unit = app.look.unit;
    const LogState* log = app.log.book ? &app.log.state() : nullptr;
    const int films = log ? static_cast<int>(log->films.size()) : 0;
    const LogShape shape = log ? log_shape_with(app) : LogShape::film;
    const LogLayout layout = log_layout(width, height, unit, shape, std::max(0, films - 1));
    const Rect whole{0.0F, 0.0F, width, height};
    const Rect page = page_area(width, height, unit);
    const std::string in_study = app.study.given.empty() ? "" : app.study.given.back().words();
    draw_header(at(app, layout.header), app.log,
                {app.side, is_practice(app), start_page_shown(app),
                 app.side == Side::study ? in_study : app.log.undo_name});
    if (start_page_shown(app)) {
        draw_start_page(at(app, page), app.start, app.settings, app.log);
    } else {
        switch (app.side) {
        case Side::log:
            draw_log(app, layout, shape, page);
            break;
        case Side::study:
            draw_study(app, page);
            break;
        case Side::season:
            draw_season_side(at(app, over_exports(app, page, "season exports")), *log, app.season);
            break;
        }
        if (app.exports.open) draw_exports_page(at(app, whole), *log, app.exports);
        if (app.unite.open && !app.chooser) draw_unite_page(at(app, whole), app.unite);
        // Two sheets at once would take the keys from each other.
        if (app.pages.games && !app.chooser) draw_games_page(at(app, whole), *log, app.pages);
        if (app.pages.parameters) draw_parameters_page(at(app, whole), app.log, app.pages.parameter);
    }
    if (log && app.pages.what_we_log) draw_what_we_log(at(app, whole), *log, app.pages.logging);
    if (app.pages.moving) draw_move_sheet(at(app, whole), *app.pages.moving);
    if (app.chooser) draw_chooser(at(app, whole), *app.chooser);
    if (app.pages.key_sheet) draw_key_sheet(app.look, width, height);
}

} // namespace ropeline
