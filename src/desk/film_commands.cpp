// The key commands that move the film, the ribbon and the view of the picture.
#include "desk/app.h"

#include "desk/state/loop_span.h"

namespace ropeline {

namespace {

void move_film(App& app, Player (*move)(Player, std::int64_t, const FrameTable&), std::int64_t amount) {
    if (const auto frames = frames_of(app)) app.player = move(app.player, amount, *frames);
}

/// Around the frame on screen, also when the ribbon shows another stretch.
void zoom_ribbon(App& app, double factor) {
    const auto frames = frames_of(app);
    if (!frames) return;
    const double now_s = frames->seconds_of(app.player.frame);
    app.ribbon = ribbon_closer(ribbon_following(app.ribbon, now_s, *frames), factor, now_s, *frames);
}

void loop_around_shot(App& app, const FrameTable& frames) {
    if (app.player.loop && app.player.playing) {
        app.player = held(app.player);
        app.player.loop.reset();
        return;
    }
    const FilmSpan span = loop_span(app.book->state(), frames, app.player.frame);
    app.player = looping(app.player, span.first_s, span.last_s, frames);
}

} // namespace

bool run_film_command(App& app, Command command) {
    const auto frames = frames_of(app);
    switch (command) {
    case Command::frame_on:
        move_film(app, stepped, 1);
        return true;
    case Command::frame_back:
        move_film(app, stepped, -1);
        return true;
    case Command::ten_on:
        move_film(app, stepped, 10);
        return true;
    case Command::ten_back:
        move_film(app, stepped, -10);
        return true;
    case Command::second_on:
        if (frames) app.player = moved(app.player, 1.0, *frames);
        return true;
    case Command::second_back:
        if (frames) app.player = moved(app.player, -1.0, *frames);
        return true;
    case Command::run_film:
        if (frames) app.player = toggled(app.player, 1, *frames);
        return true;
    case Command::run_film_back:
        if (frames) app.player = toggled(app.player, -1, *frames);
        return true;
    case Command::slower:
        app.player = slowed(app.player);
        return true;
    case Command::loop_shot:
        if (frames) loop_around_shot(app, *frames);
        return true;
    case Command::ribbon_closer:
        zoom_ribbon(app, 4.0);
        return true;
    case Command::ribbon_wider:
        zoom_ribbon(app, 0.25);
        return true;
    case Command::mute:
        app.muted = !app.muted;
        return true;
    case Command::magnify: {
        const ImVec2 mouse = ImGui::GetIO().MousePos;
        if (app.view.panel.holds({mouse.x, mouse.y})) app.view = zoomed(app.view, 2.0, {mouse.x, mouse.y});
        return true;
    }
    case Command::whole_picture:
        app.view.zoom = 1.0;
        return true;
    default:
        return false;
    }
}

} // namespace ropeline
