// One turn of the whole desk: which panels stand where on each side.
#include "desk/panels/ui.h"

#include <algorithm>

namespace ropeline {

namespace {

void draw_log_side(App& app, const LogLayout& at) {
    draw_film_view(app, at.film);
    draw_decision(app, at.decision);
    draw_ribbon(app, at.ribbon);
    if (app.book->state().selection.fit()) {
        draw_fit_plan(app, at.fit_plan);
        draw_fit_card(app, at.fit_card);
    } else {
        draw_shot_card(app, at.card);
        if (app.guide &&
            at.list.height < 12.0F * app.look.unit) { // a low window: the guide needs the plan's room
            const float bottom = at.list.y + at.list.height;
            const float top = at.plan.height > 0.0F ? at.plan.y : at.list.y;
            draw_guide(app, {at.list.x, top, at.list.width, bottom - top});
            draw_key_strip(app, at.keys);
            return;
        }
        if (at.plan.height > 0.0F) {
            draw_plan(app, at.plan);
            draw_reading(app, at.reading);
        }
        if (app.guide) {
            draw_guide(app, at.list);
        } else {
            draw_shot_list(app, at.list);
        }
    }
    draw_key_strip(app, at.keys);
}

} // namespace

void draw_desk(App& app, float width, float height) {
    const float unit = app.look.unit;
    const int films = app.book ? static_cast<int>(app.book->state().films.size()) : 0;
    const bool browsing = app.book && !app.guide && (!chosen_shot(app.book->state()) || app.list.typing);
    const LogLayout at = log_layout(width, height, unit, std::max(0, films - 1), browsing);
    draw_header(app, at.header);
    const Rect page = page_area(width, height, unit);
    if (!app.book) {
        draw_first_run(app, page);
    } else {
        switch (app.side) {
        case Side::log:
            if (app.list_page) {
                draw_scorer_list(app, {page.x, page.y, page.width, page.height - at.keys.height});
                draw_key_strip(app, at.keys);
            } else if (app.list.whole_page) {
                draw_list_page(app, {page.x, page.y, page.width, page.height - at.keys.height});
                draw_key_strip(app, at.keys);
            } else {
                draw_log_side(app, at);
            }
            break;
        case Side::study:
            draw_study_side(app, page);
            break;
        case Side::season:
            draw_season_side(app, page);
            break;
        }
        if (app.games_page) draw_games_page(app, width, height);
        if (app.parameters_page) draw_parameters_page(app, width, height);
    }
    if (app.key_sheet) draw_key_sheet(app, width, height);
}

} // namespace ropeline
