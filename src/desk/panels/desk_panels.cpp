// One turn of the whole desk: which panels stand where on each side.
#include "desk/app.h"
#include "desk/panels/decision.h"
#include "desk/panels/film_view.h"
#include "desk/panels/first_run.h"
#include "desk/panels/fit_card.h"
#include "desk/panels/games_page.h"
#include "desk/panels/guide.h"
#include "desk/panels/header.h"
#include "desk/panels/key_sheet.h"
#include "desk/panels/key_strip.h"
#include "desk/panels/parameters_page.h"
#include "desk/panels/plan.h"
#include "desk/panels/reading.h"
#include "desk/panels/ribbon.h"
#include "desk/panels/scorer_list.h"
#include "desk/panels/season_side.h"
#include "desk/panels/shot_card.h"
#include "desk/panels/shot_list.h"
#include "desk/panels/study_side.h"
#include "desk/panels/what_we_log.h"

#include <algorithm>

namespace ropeline {

namespace {

Panel at(App& app, const Rect& place) {
    return {app.look, place, app.actions};
}

void draw_guide_at(const App& app, const Rect& place) {
    draw_guide(app.look, place, *app.guide, app.log.state(), app.season.answers.size());
}

/// The right column while a shot is worked on: card, plan, figures, list.
void draw_shot_column(App& app, const LogLayout& layout) {
    draw_shot_card(at(app, layout.card), app.log.state(), app.pages.card);
    if (app.guide && layout.list.height < 12.0F * app.look.unit) { // low: the guide needs the plan's room
        const float bottom = layout.list.y + layout.list.height;
        const float top = layout.plan.height > 0.0F ? layout.plan.y : layout.list.y;
        return draw_guide_at(app, {layout.list.x, top, layout.list.width, bottom - top});
    }
    if (layout.plan.height > 0.0F) {
        draw_plan(at(app, layout.plan), app.log);
        draw_reading(at(app, layout.reading), app.log);
    }
    if (app.guide) return draw_guide_at(app, layout.list);
    draw_shot_list(at(app, layout.list), app.log.state(), app.list);
}

void draw_log_side(App& app, const LogLayout& layout) {
    draw_film_view(at(app, layout.film), app.stage, app.log, app.pages.clock, PictureUse::marking);
    draw_decision(at(app, layout.decision), app.log, app.pages.overrule);
    draw_ribbon(at(app, layout.ribbon), app.stage, app.log.state(), true);
    const FitDraft* fit = app.log.state().selection.fit();
    if (fit) {
        draw_fit_plan(at(app, layout.fit_plan), *fit);
        draw_fit_card(at(app, layout.fit_card), *fit);
    } else {
        draw_shot_column(app, layout);
    }
    draw_key_strip(app.look, layout.keys,
                   fit && fit->proposed && !fit->fit ? KeyStrip::proposal
                   : fit                             ? KeyStrip::fit
                   : chosen_shot(app.log.state())    ? KeyStrip::shot
                                                     : KeyStrip::film);
}

/// The Log side, or one of the pages that take its room.
void draw_log(App& app, const LogLayout& layout, const Rect& page) {
    const Rect room{page.x, page.y, page.width, page.height - layout.keys.height};
    if (app.scorer_list) {
        const auto frames = frames_of(app.stage);
        draw_scorer_list(at(app, room), app.log.state(), *app.scorer_list,
                         frames ? frames->seconds_of(FrameIndex{0}) : 0.0);
        draw_key_strip(app.look, layout.keys, KeyStrip::scorer_list);
    } else if (app.list.whole_page) {
        draw_list_page(at(app, room), app.log.state(), app.list);
        draw_key_strip(app.look, layout.keys, KeyStrip::whole_list);
    } else {
        draw_log_side(app, layout);
    }
}

/// One decision under study.
void draw_study_turn(App& app, const Rect& page) {
    const Look& look = app.look;
    const StudyTurn turn = *app.study.turn;
    LogLayout layout = log_layout(page.width, page.y + page.height, look.unit);
    const bool answered = turn.phase == StudyPhase::answer;
    if (!answered) layout.film.height += layout.decision.height;
    draw_film_view(at(app, layout.film), app.stage, app.log, app.pages.clock,
                   answered ? PictureUse::looking : PictureUse::answer_hidden);
    if (answered) draw_decision(at(app, layout.decision), app.log, app.pages.overrule);
    draw_ribbon(at(app, layout.ribbon), app.stage, app.log.state(), false);
    const float card_height = std::min(21.0F * look.unit, 0.5F * page.height);
    const Rect card{layout.card.x, page.y, layout.card.width, card_height};
    draw_study_card(at(app, card), app.log, turn);
    const Rect plan{card.x, page.y + card_height + 0.5F * look.unit, card.width,
                    page.height - card_height - 2.5F * look.unit};
    draw_study_plan(at(app, plan), app.log, turn);
    draw_key_strip(app.look, layout.keys, KeyStrip::study);
}

void draw_study(App& app, const Rect& page) {
    if (app.study.turn) return draw_study_turn(app, page);
    const float guide_height = app.guide ? std::min(12.0F * app.look.unit, 0.4F * page.height) : 0.0F;
    draw_study_queue(at(app, {page.x, page.y, page.width, page.height - guide_height}), app.log.state(),
                     app.season, app.study);
    if (app.guide)
        draw_guide_at(app, {page.x, page.y + page.height - guide_height, page.width, guide_height});
}

} // namespace

void draw_desk(App& app, float width, float height) {
    const float unit = app.look.unit;
    const LogState* log = app.log.book ? &app.log.state() : nullptr;
    const int films = log ? static_cast<int>(log->films.size()) : 0;
    const bool browsing = log && !app.guide && (!chosen_shot(*log) || app.list.typing);
    const LogLayout layout = log_layout(width, height, unit, std::max(0, films - 1), browsing);
    const Rect whole{0.0F, 0.0F, width, height};
    const Rect page = page_area(width, height, unit);
    draw_header(app.look, layout.header, app.log, app.side, app.pages.games);
    if (!log) {
        draw_first_run(at(app, page), app.first_run);
    } else {
        switch (app.side) {
        case Side::log:
            draw_log(app, layout, page);
            break;
        case Side::study:
            draw_study(app, page);
            break;
        case Side::season:
            draw_season_side(at(app, page), log->season, app.season);
            break;
        }
        if (app.pages.games) draw_games_page(at(app, whole), *log, app.pages);
        if (app.pages.parameters) draw_parameters_page(at(app, whole), app.log, app.pages.parameter);
    }
    if (log && app.pages.what_we_log) draw_what_we_log(at(app, whole), *log, app.pages.logging);
    if (app.pages.key_sheet) draw_key_sheet(app.look, width, height);
}

} // namespace ropeline
