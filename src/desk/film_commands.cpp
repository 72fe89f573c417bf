// What the keys do to the film, the ribbon and the view of the picture.
#include "chances/joined_marks.h"
#include "desk/commands.h"
#include "desk/state/loop_span.h"

#include <fmt/core.h>
#include <imgui.h>

#include <algorithm>

namespace ropeline {

void frame_or_column_on(App& app, int way) {
    if (place_of_keys(app) == Place::scorer_list) return go_to_column(*app.scorer_list, way);
    step_film(app.stage, way);
}

void hold_step(App& app, int way) {
    const Place place = place_of_keys(app);
    if (place != Place::log && place != Place::studying) return;
    app.stage.step_held = way;
    app.stage.step_held_s = 0.0;
}

void step_film(FilmStage& stage, int frames) {
    if (const auto table = frames_of(stage)) stage.player = stepped(stage.player, frames, *table);
}

void film_to_end(FilmStage& stage, int way) {
    const auto table = frames_of(stage);
    if (table) stage.player = at_frame(stage.player, way < 0 ? 0 : table->count() - 1, *table);
}

void move_film(FilmStage& stage, double seconds) {
    if (const auto table = frames_of(stage)) stage.player = moved(stage.player, seconds, *table);
}

void run_film(FilmStage& stage, int way) {
    if (const auto table = frames_of(stage)) stage.player = toggled(stage.player, way, *table);
}

void run_film_or_run_up(App& app) {
    if (app.side == Side::study) return run_or_hold_study(app);
    run_film(app.stage, 1);
}

namespace {

/// Before the call the film is for what leads up to it.
bool call_comes_first(App& app) {
    if (app.side != Side::study || is_answered(app.study.turn)) return false;
    tell(app, "The call comes first.", false);
    return true;
}

} // namespace

void show_next_film(App& app) {
    if (!call_comes_first(app)) ask(app, ShowFilmBy{1});
}

void slow_film(FilmStage& stage) {
    stage.player = slowed(stage.player);
}

void speed_film(FilmStage& stage) {
    stage.player = sped(stage.player);
}

void go_to_chance(App& app, int way) {
    const auto frames = frames_of(app.stage);
    if (!frames || call_comes_first(app)) return;
    Player& player = app.stage.player;
    const FilmMarks& marks = app.stage.chances.shown;
    const double now_s = frames->seconds_of(player.frame);
    const auto to_s = way > 0 ? next_chance_s(marks, now_s) : chance_before_s(marks, now_s);
    if (to_s) {
        player = at_frame(player, number(frames->shown_at(*to_s)), *frames);
        tell(app, fmt::format("{:.0f} s before a likely chance: [run_film] runs the film.", before_chance_s),
             false);
    } else if (way > 0 && app.stage.chances.scan) {
        tell(app, "No further likely chance is found yet: the film is still being looked through.", false);
    } else {
        tell(app, way > 0 ? "No likely chance after this one." : "No likely chance before this one.", false);
    }
}

void loop_around_shot(App& app) {
    if (app.side == Side::study && !is_answered(app.study.turn)) return run_or_hold_study(app);
    Player& player = app.stage.player;
    const auto frames = frames_of(app.stage);
    if (!frames) return;
    if (player.loop && player.playing) {
        player = held(player);
        player.loop.reset();
        return;
    }
    const FilmSpan span = loop_span(app.log.state(), *frames, player.frame);
    player = looping(player, span.first_s, span.last_s, *frames);
}

/// Around the frame on screen, also when the ribbon shows another stretch.
void zoom_ribbon(FilmStage& stage, double factor) {
    const auto frames = frames_of(stage);
    if (!frames) return;
    const double now_s = frames->seconds_of(stage.player.frame);
    stage.ribbon = ribbon_closer(ribbon_following(stage.ribbon, now_s, *frames), factor, now_s, *frames);
}

void magnify_at_cursor(FilmStage& stage) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    if (stage.view.panel.holds({mouse.x, mouse.y})) stage.view = zoomed(stage.view, 2.0, {mouse.x, mouse.y});
}

void show_whole_picture(FilmStage& stage) {
    turn_to_whole(stage.aim, stage.view);
}

void turn_following(FilmStage& stage) {
    stage.carry_wanted = !stage.carry_wanted;
    stage.carry_asked.reset();
    if (!stage.carry_wanted) stage.carry.reset();
}

} // namespace ropeline
