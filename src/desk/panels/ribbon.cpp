// The strip under the picture: the film's length, its shots, its rink fits, where you are.
#include "desk/panels/ui.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

/// Seconds between two labels so that they stand at least `room` pixels apart.
double tick_step(double seconds_a_pixel, double room) {
    for (const double step : {1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1200.0}) {
        if (step >= seconds_a_pixel * room) return step;
    }
    return 3600.0;
}

/// Where the rink is held (solid), unsure (dashes) and lost (crosses), under the shots.
void draw_followed(const App& app, ImDrawList* draw, const Rect& strip, const FrameTable& frames) {
    const Palette& c = app.look.colours;
    const LogState& log = app.book->state();
    const float y = strip.y + strip.height - 0.1F * app.look.unit;
    const float tall = 0.11F * app.look.unit;
    const double first = frames.seconds_of(FrameIndex{0});
    const double length = std::max(frames.seconds_of(FrameIndex{frames.count() - 1}) - first, 1e-6);
    for (float x = strip.x; x < strip.x + strip.width; x += 2.0F) {
        const FrameIndex frame = frames.shown_at(first + length * (x - strip.x) / strip.width);
        const FitHere here = fit_here(log, number(frame));
        const int pixel = static_cast<int>(x - strip.x);
        if (here.source == FitHere::Source::lost && pixel % 8 < 2) {
            draw->AddLine({x - 2.0F, y - 3.0F}, {x + 2.0F, y + 3.0F}, c.trouble, 1.5F);
            draw->AddLine({x - 2.0F, y + 3.0F}, {x + 2.0F, y - 3.0F}, c.trouble, 1.5F);
        } else if (here.source == FitHere::Source::carried || here.source == FitHere::Source::clicked) {
            const bool unsure = here.state != CarryState::held;
            if (!unsure || pixel % 8 < 4)
                draw->AddRectFilled({x, y - tall}, {x + 2.0F, y + tall}, unsure ? c.rope : c.save);
        }
    }
}

} // namespace

void draw_ribbon(App& app, const Rect& place) {
    const Look& look = app.look;
    const Palette& c = look.colours;
    begin_panel("ribbon", place, c.panel);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const LogState& log = app.book->state();
    const auto frames = frames_of(app);
    const float pad = 0.9F * look.unit;
    const Rect strip{place.x + pad, place.y + 1.75F * look.unit, place.width - 2.0F * pad, 1.35F * look.unit};
    draw->AddRectFilled(corner(strip), far_corner(strip), c.raised, 0.2F * look.unit);
    if (!frames) {
        draw_text(draw, look.body, {strip.x, place.y + 0.35F * look.unit}, c.quiet,
                  "The ribbon shows the film's shots here once a film is open.");
        ImGui::End();
        return;
    }
    const double first = frames->seconds_of(FrameIndex{0});
    const double last = frames->seconds_of(FrameIndex{frames->count() - 1});
    const double length = std::max(last - first, 1e-6);
    const auto x_of = [&](double seconds) {
        return strip.x + strip.width * static_cast<float>(std::clamp((seconds - first) / length, 0.0, 1.0));
    };
    const auto x_of_frame = [&](std::int64_t frame) {
        return x_of(frames->seconds_of(frames->clamp(frame)));
    };

    const double step = tick_step(length / strip.width, 5.0 * look.unit);
    for (double at = 0.0; at <= length; at += step) {
        const float x = x_of(first + at);
        draw->AddLine({x, strip.y + strip.height}, {x, strip.y + strip.height + 0.3F * look.unit}, c.edge);
        if (x + 3.0F * look.unit < place.x + place.width) {
            draw_text(draw, look.body, {x + 0.2F * look.unit, strip.y + strip.height + 0.1F * look.unit},
                      c.faint, clock_text(at));
        }
    }
    for (const FilmHole& hole : app.film->holes()) {
        const float from = x_of_frame(number(hole.first));
        const float to = std::max(x_of_frame(number(hole.last)), from + 2.0F);
        draw->AddRectFilled({from, strip.y}, {to, strip.y + strip.height}, faded(c.trouble, 0.55F));
        for (float x = from; x < to; x += 0.4F * look.unit) {
            draw->AddLine({x, strip.y + strip.height}, {x + 0.4F * look.unit, strip.y}, c.trouble);
        }
        if (ImGui::IsMouseHoveringRect({from - 2.0F, strip.y}, {to + 2.0F, strip.y + strip.height})) {
            ImGui::SetTooltip("%s", hole.why.c_str());
        }
    }
    draw_followed(app, draw, strip, *frames);
    for (const StoredFit& fit : log.fits) {
        if (!fit.carried_from.empty()) continue;
        const float x = x_of_frame(fit.frame);
        draw->AddRectFilled({x - 0.5F * look.unit, strip.y + strip.height - 0.22F * look.unit},
                            {x + 0.5F * look.unit, strip.y + strip.height}, c.blue_paint);
    }
    const std::string film_id = log.film ? log.films[*log.film].id : std::string{};
    for (std::size_t index = 0; index < log.shots.size(); ++index) {
        const Shot& shot = log.shots[index].shot;
        if (shot.film_id != film_id) continue;
        const float x = x_of_frame(shot.frame);
        const bool chosen = log.shot == index;
        if (chosen) {
            draw->AddRectFilled({x - 0.6F * look.unit, strip.y},
                                {x + 0.6F * look.unit, strip.y + strip.height}, faded(c.rope, 0.3F));
        }
        draw_outcome(draw, {x, strip.y + 0.5F * strip.height}, 0.75F * look.unit, shot.outcome, c);
    }
    const float here = x_of_frame(number(app.player.frame));
    draw->AddLine({here, strip.y - 0.3F * look.unit}, {here, strip.y + strip.height + 0.3F * look.unit},
                  c.text, 2.0F);
    draw->AddTriangleFilled({here - 0.35F * look.unit, strip.y - 0.55F * look.unit},
                            {here + 0.35F * look.unit, strip.y - 0.55F * look.unit},
                            {here, strip.y - 0.05F * look.unit}, c.text);

    const double now = frames->seconds_of(app.player.frame);
    const float words_y = place.y + 0.3F * look.unit;
    float x = strip.x;
    x += draw_text(draw, look.strong, {x, words_y}, c.text, film_time(now - first)).x + look.unit;
    x += draw_text(draw, look.body, {x, words_y}, c.quiet,
                   fmt::format("frame {} of {}", number(app.player.frame), frames->count()))
             .x +
         look.unit;
    const std::string tempo =
        app.player.tempo == 0 ? "" : fmt::format(" at {}", tempo_words(app.player.tempo));
    if (app.player.playing) {
        draw_text(draw, look.body, {x, words_y}, c.rope,
                  (app.player.clock.speed < 0.0 ? "running back" : "running") + tempo);
    } else if (!tempo.empty()) {
        draw_text(draw, look.body, {x, words_y}, c.quiet, "runs" + tempo);
    }
    const auto on_ribbon = std::ranges::count_if(
        log.shots, [&](const ShotEntry& entry) { return entry.shot.film_id == film_id; });
    const std::string shots = fmt::format("{} shot{} on the ribbon", on_ribbon, on_ribbon == 1 ? "" : "s");
    draw_text(draw, look.body, {strip.x + strip.width - text_size(look.body, shots).x, words_y}, c.faint,
              shots);

    ImGui::SetCursorScreenPos({strip.x, strip.y - 0.5F * look.unit});
    ImGui::InvisibleButton("scrub", {std::max(1.0F, strip.width), strip.height + 0.8F * look.unit});
    if (ImGui::IsItemActive() && (ImGui::IsItemActivated() || ImGui::GetIO().MouseDelta.x != 0.0F)) {
        const double share = (ImGui::GetIO().MousePos.x - strip.x) / strip.width;
        const FrameIndex to = frames->shown_at(first + std::clamp(share, 0.0, 1.0) * length);
        app.player = at_frame(app.player, number(to), *frames);
    }
    ImGui::End();
}

void draw_key_strip(App& app, const Rect& place) {
    const Look& look = app.look;
    begin_panel("keys", place, look.colours.ground);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const LogState& log = app.book->state();
    struct Hint {
        std::string_view chord, label;
    };
    std::vector<Hint> hints;
    if (app.side == Side::study) {
        hints = {{"1", "shot"},          {"2", "pass"},          {"Space", "run-up again"},
                 {"Return", "next one"}, {"Escape", "the list"}, {"F1", "all keys"}};
    } else if (app.list_page) {
        hints = {{"Return", "bring the shots in"},
                 {"Escape", "leave the list"},
                 {"Left", ""},
                 {"Right", "column"},
                 {"Up", ""},
                 {"Down", "what it holds"},
                 {"1", "head"},
                 {"2", "metres or feet"},
                 {"3", "from where"}};
    } else if (app.list.whole_page) {
        hints = {{"Up", ""},           {"Down", "pick"},   {"Tab", "next line"}, {"1–7", "choose"},
                 {"I", "in net"},      {"D", "sort"},      {"Ctrl+F", "find"},   {"Return", "to the film"},
                 {"Delete", "remove"}, {"Ctrl+Z", "undo"}, {"Escape", "back"},   {"F1", "all keys"}};
    } else if (log.fit) {
        hints = {{"X", "another landmark"},    {"L", "lay onto the paint"}, {"Delete", "drop the last click"},
                 {"Return", "keep the fit"},   {"Escape", "leave it"},      {"Z", "closer"},
                 {"Shift+Z", "whole picture"}, {"F1", "all keys"}};
    } else if (chosen_shot(log)) {
        hints = {{"1–7", "choose"}, {"Tab", "next line"},    {"S", "skates"},      {"G", "goalie"},
                 {"P", "puck"},     {"R", "opponent"},       {"A", "moment"},      {"Alt+Left", "nudge"},
                 {"W", "note"},     {"Return", "shot done"}, {"Delete", "remove"}, {"Ctrl+Z", "undo"},
                 {"F1", "all keys"}};
    } else {
        hints = {{"Left", ""},           {"Right", "frame"},
                 {"Shift+Right", "ten"}, {"Ctrl+Right", "second"},
                 {"Space", "run"},       {"Up", ""},
                 {"Down", "shots"},      {"N", "new shot here"},
                 {"F", "fit the rink"},  {"O", "games, films"},
                 {"F1", "all keys"}};
    }
    float x = place.x + 0.9F * look.unit;
    const float y = place.y + 0.32F * look.unit;
    for (const Hint& hint : hints) {
        const float width = text_size(look.body, hint.label).x +
                            text_size(look.strong, shown_chord(hint.chord)).x + 1.2F * look.unit;
        if (x + width > place.x + place.width) break;
        x += draw_key(app, draw, {x, y}, hint.chord, hint.label) +
             (hint.label.empty() ? 0.0F : 1.1F * look.unit);
    }
    ImGui::End();
}

} // namespace ropeline
