// The strip under the picture: the film's length, its shots, its rink fits, where you are.
#include "desk/panels/ui.h"

#include "season/clock_words.h"
#include "season/game_clock.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <utility>

namespace ropeline {

namespace {

/// Where the rink is held (solid), unsure (dashes) and lost (crosses), under the shots.
void draw_followed(const App& app, ImDrawList* draw, const Rect& strip, const FrameTable& frames) {
    const Palette& c = app.look.colours;
    const LogState& log = app.book->state();
    const float y = strip.y + strip.height - 0.1F * app.look.unit;
    const float tall = 0.11F * app.look.unit;
    for (float x = strip.x; x < strip.x + strip.width; x += 2.0F) {
        const FrameIndex frame = frames.shown_at(app.ribbon.film_s_at(x, strip));
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

/// Close up, a line where each frame begins.
void draw_frames(ImDrawList* draw, const Rect& strip, const RibbonView& view, const FrameTable& frames,
                 ImU32 colour) {
    const std::int64_t from = number(frames.shown_at(view.first_s));
    const std::int64_t to = number(frames.shown_at(view.last_s));
    if (static_cast<float>(to - from) * 5.0F > strip.width) return;
    for (std::int64_t frame = from; frame <= to; ++frame) {
        const float x = view.x_of(frames.seconds_of(FrameIndex{frame}), strip);
        draw->AddLine({x, strip.y}, {x, strip.y + strip.height}, colour);
    }
}

/// The picture under the cursor, over the ribbon.
void draw_glimpse(App& app, const Rect& strip, float mouse_x, const FrameTable& frames) {
    const Look& look = app.look;
    const double film_s = app.ribbon.film_s_at(mouse_x, strip);
    const FrameIndex frame = frames.shown_at(film_s);
    const double a_pixel = app.ribbon.seconds_a_pixel(strip);
    app.glimpse_within = number(frame) - number(frames.shown_at(film_s - 2.0 * a_pixel));
    app.glimpse_wanted = frame;
    const float width = 15.0F * look.unit;
    const bool there = app.glimpse_texture.filled() && app.glimpse_texture.width_px() > 0;
    const float height = there ? width * static_cast<float>(app.glimpse_texture.height_px()) /
                                     static_cast<float>(app.glimpse_texture.width_px())
                               : 0.0F;
    const float pad = 0.25F * look.unit;
    const std::string words =
        fmt::format("{}   frame {}", film_time(film_s - whole_film(frames).first_s), number(frame));
    const float tall = height + 1.6F * look.unit;
    const float x =
        std::clamp(mouse_x - 0.5F * width, strip.x, std::max(strip.x, strip.x + strip.width - width));
    const ImVec2 from{x, strip.y - tall - 2.1F * look.unit};
    ImDrawList* draw = ImGui::GetForegroundDrawList();
    draw->AddRectFilled({from.x - pad, from.y - pad}, {from.x + width + pad, from.y + tall},
                        look.colours.raised, pad);
    draw->AddRect({from.x - pad, from.y - pad}, {from.x + width + pad, from.y + tall}, look.colours.rope,
                  pad);
    if (there) {
        draw->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(app.glimpse_texture.id())),
                       from, {from.x + width, from.y + height});
    }
    draw_text(draw, look.body, {from.x + pad, from.y + height + 0.25F * look.unit}, look.colours.text, words);
}

/// The game clock along the upper edge: a tick at each mark, a line where the clock runs, hatching where it
/// stands.
void draw_clock(const App& app, ImDrawList* draw, const Rect& strip) {
    const Palette& c = app.look.colours;
    const LogState& log = app.book->state();
    const auto marks = clock_marks_of(log, open_film(log));
    if (marks.empty()) return;
    const float tall = 0.26F * app.look.unit;
    const float slant = 0.4F * tall;
    for (float x = strip.x; x < strip.x + strip.width - slant; x += 4.0F) {
        const auto time = game_time_at(marks, app.ribbon.film_s_at(x, strip));
        if (time->standing) {
            draw->AddLine({x, strip.y + tall}, {x + slant, strip.y}, c.quiet, 1.5F);
        } else {
            draw->AddLine({x, strip.y + 0.5F * tall}, {x + 4.0F, strip.y + 0.5F * tall}, c.quiet, 1.5F);
        }
    }
    for (const ClockMark& mark : marks) {
        const float x = app.ribbon.x_of(mark.film_s, strip);
        if (x < strip.x || x > strip.x + strip.width) continue;
        draw->AddLine({x, strip.y - 0.1F * app.look.unit}, {x, strip.y + 0.45F * app.look.unit}, c.text,
                      app.look.pen(2.0F));
        if (ImGui::IsMouseHoveringRect({x - 4.0F, strip.y - 2.0F},
                                       {x + 4.0F, strip.y + 0.5F * app.look.unit})) {
            ImGui::SetTooltip("%s%s", game_time_words(mark.period, mark.clock_s).c_str(),
                              mark.running ? "" : " stands");
        }
    }
}

/// The game's other films as thin lines with their shots; a click opens one.
void draw_other_films(App& app, ImDrawList* draw, const Rect& place, float left, float width) {
    const Look& look = app.look;
    const Palette& c = look.colours;
    const LogState& log = app.book->state();
    const int others = static_cast<int>(log.films.size()) - (log.film ? 1 : 0);
    int line = 0;
    for (std::size_t index = 0; index < log.films.size(); ++index) {
        if (log.film == index) continue;
        const Film& film = log.films[index];
        const Rect row = other_film_line(place, look.unit, others, line++);
        const float middle = row.y + 0.5F * row.height;
        const std::string name =
            fmt::format("{}  {}", index + 1, std::filesystem::path(film.path).filename().string());
        const float words = std::min(13.0F * look.unit, 0.3F * width);
        ImGui::SetCursorScreenPos({left, row.y});
        ImGui::PushID(static_cast<int>(index));
        if (ImGui::InvisibleButton("film", {std::max(1.0F, width), std::max(1.0F, row.height)}))
            app.actions.push_back(ShowFilm{index});
        ImGui::PopID();
        const bool hovered = ImGui::IsItemHovered();
        if (hovered)
            ImGui::SetTooltip("Film %zu: %s. %s", index + 1, film.path.c_str(),
                              with_keys("A click opens it; [next_film] opens the next.").c_str());
        const float size = std::min(look.body->FontSize, row.height);
        if (size > 0.6F * look.body->FontSize) {
            draw->PushClipRect({left, row.y}, {left + words - 0.5F * look.unit, row.y + row.height}, true);
            draw->AddText(look.body, size, {left, middle - 0.5F * size}, hovered ? c.rope : c.quiet,
                          name.c_str());
            draw->PopClipRect();
        }
        const float from = left + words;
        const float to = left + width;
        draw->AddLine({from, middle}, {to, middle}, hovered ? c.rope : c.edge, 0.35F * look.unit);
        double first = film.first_s.value_or(0.0);
        double last = film.last_s.value_or(first);
        for (const ShotEntry& entry : log.shots)
            if (entry.shot.film_id == film.id) last = std::max(last, entry.shot.film_s);
        for (std::size_t shot = 0; shot < log.shots.size(); ++shot) {
            const Shot& one = log.shots[shot].shot;
            if (one.film_id != film.id) continue;
            const double share = std::clamp((one.film_s - first) / std::max(last - first, 1e-6), 0.0, 1.0);
            const float x = from + (to - from) * static_cast<float>(share);
            if (log.shot == shot)
                draw->AddRectFilled({x - 0.45F * look.unit, row.y},
                                    {x + 0.45F * look.unit, row.y + row.height}, faded(c.rope, 0.35F));
            draw_outcome(draw, {x, middle}, std::min(0.55F * look.unit, row.height), one.outcome, c);
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
    if (app.side == Side::log) draw_other_films(app, draw, place, strip.x, strip.width);
    if (!frames) {
        draw_text(draw, look.body, {strip.x, place.y + 0.35F * look.unit}, c.quiet,
                  "The ribbon shows the film's shots here once a film is open.");
        ImGui::End();
        return;
    }
    const double now = frames->seconds_of(app.player.frame);
    const RibbonView whole = whole_film(*frames);
    const double first = whole.first_s;
    if (app.ribbon.last_s <= app.ribbon.first_s) app.ribbon = whole;
    // A look elsewhere with the wheel stays where it is until the film moves.
    if (std::exchange(app.ribbon_followed, app.player.frame) != app.player.frame)
        app.ribbon = ribbon_following(app.ribbon, now, *frames);
    const RibbonView& view = app.ribbon;
    const bool close_up = view.first_s > whole.first_s || view.last_s < whole.last_s;
    const auto x_of = [&](double seconds) {
        return std::clamp(view.x_of(seconds, strip), strip.x - 2.0F * look.unit,
                          strip.x + strip.width + 2.0F * look.unit);
    };
    const auto x_of_frame = [&](std::int64_t frame) {
        return x_of(frames->seconds_of(frames->clamp(frame)));
    };

    draw->PushClipRect({place.x, place.y}, {place.x + place.width, place.y + place.height}, true);
    const double step = ribbon_tick_s(view, strip, 5.0F * look.unit);
    for (double at = step * std::ceil((view.first_s - first) / step - 1e-6); first + at <= view.last_s;
         at += step) {
        const float x = x_of(first + at);
        draw->AddLine({x, strip.y + strip.height}, {x, strip.y + strip.height + 0.3F * look.unit}, c.edge);
        if (x + 3.0F * look.unit < place.x + place.width) {
            draw_text(draw, look.body, {x + 0.2F * look.unit, strip.y + strip.height + 0.1F * look.unit},
                      c.faint, step < 1.0 ? film_time(at) : clock_words(at));
        }
    }
    if (close_up) draw_frames(draw, strip, view, *frames, c.edge);
    draw->PushClipRect(corner(strip), far_corner(strip), true);
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
        // A lozenge on the strip that it starts.
        const ImVec2 at{x_of_frame(fit.frame), strip.y + strip.height - 0.1F * look.unit};
        const float r = 0.4F * look.unit;
        draw->AddQuadFilled({at.x - r, at.y}, {at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}, c.text);
        draw->AddQuad({at.x - r, at.y}, {at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}, c.panel,
                      look.pen(1.5F));
    }
    draw_clock(app, draw, strip);
    const std::string film_id = open_film(log);
    std::size_t here_shots = 0;
    for (std::size_t index = 0; index < log.shots.size(); ++index) {
        const Shot& shot = log.shots[index].shot;
        if (shot.film_id != film_id) continue;
        ++here_shots;
        const float x = x_of_frame(shot.frame);
        const bool chosen = log.shot == index;
        if (chosen) {
            draw->AddRectFilled({x - 0.6F * look.unit, strip.y},
                                {x + 0.6F * look.unit, strip.y + strip.height}, faded(c.rope, 0.3F));
        }
        draw_outcome(draw, {x, strip.y + 0.5F * strip.height}, 0.75F * look.unit, shot.outcome, c);
    }
    draw->PopClipRect();
    if (app.player.loop) {
        const float from = x_of_frame(number(app.player.loop->first));
        const float to = x_of_frame(number(app.player.loop->last));
        draw->AddRect({from, strip.y - 0.15F * look.unit}, {to, strip.y + strip.height + 0.15F * look.unit},
                      c.rope, 0.3F * look.unit, 0, look.pen(2.0F));
    }
    draw->PopClipRect();
    const float here = x_of_frame(number(app.player.frame));
    draw->AddLine({here, strip.y - 0.3F * look.unit}, {here, strip.y + strip.height + 0.3F * look.unit},
                  c.text, look.pen(2.0F));
    draw->AddTriangleFilled({here - 0.35F * look.unit, strip.y - 0.55F * look.unit},
                            {here + 0.35F * look.unit, strip.y - 0.55F * look.unit},
                            {here, strip.y - 0.05F * look.unit}, c.text);

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
        const std::string way = app.player.clock.speed < 0.0 ? "running back" : "running";
        draw_text(draw, look.body, {x, words_y}, c.rope,
                  way + tempo + (app.player.loop ? ", around the shot" : ""));
    } else if (!tempo.empty()) {
        draw_text(draw, look.body, {x, words_y}, c.quiet, "runs" + tempo);
    }
    std::string shots = close_up
                            ? fmt::format("{} to {} of the film", film_time(view.first_s - first),
                                          film_time(view.last_s - first))
                            : fmt::format("{} shot{} on the ribbon", here_shots, here_shots == 1 ? "" : "s");
    if (log.films.size() > 1 && log.film)
        shots = fmt::format("film {} of {},  {}", *log.film + 1, log.films.size(), shots);
    draw_text(draw, look.body, {strip.x + strip.width - text_size(look.body, shots).x, words_y}, c.faint,
              shots);

    ImGui::SetCursorScreenPos({strip.x, strip.y - 0.5F * look.unit});
    ImGui::InvisibleButton("scrub", {std::max(1.0F, strip.width), strip.height + 0.8F * look.unit});
    const float mouse_x = ImGui::GetIO().MousePos.x;
    const double under_s = view.film_s_at(mouse_x, strip);
    if (ImGui::IsItemActive() && (ImGui::IsItemActivated() || ImGui::GetIO().MouseDelta.x != 0.0F))
        app.player = at_frame(app.player, number(frames->shown_at(under_s)), *frames);
    const bool hovered = ImGui::IsItemHovered();
    ImGui::End();
    if (hovered) draw_glimpse(app, strip, mouse_x, *frames);
    if (hovered && ImGui::GetIO().MouseWheel != 0.0F)
        app.ribbon = ribbon_closer(view, std::pow(1.6, ImGui::GetIO().MouseWheel), under_s, *frames);
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
    const auto hint = [&](Command command, std::string_view label) {
        hints.push_back({chord_of(command), label});
    };
    if (app.side == Side::study) {
        hints = {{"1", "shot"}, {"2", "pass"}};
        hint(Command::run_film, "run-up again");
        hint(Command::take_shot, "next one");
        hint(Command::put_down, "the list");
    } else if (app.list_page) {
        hint(Command::take_shot, "bring the shots in");
        hint(Command::put_down, "leave the list");
        hint(Command::frame_back, "");
        hint(Command::frame_on, "column");
        hint(Command::previous_shot, "");
        hint(Command::next_shot, "what it holds");
        hints.insert(hints.end(), {{"1", "head"}, {"2", "metres or feet"}, {"3", "from where"}});
    } else if (app.list.whole_page) {
        hint(Command::previous_shot, "");
        hint(Command::next_shot, "pick");
        hint(Command::next_field, "next line");
        hints.push_back({"1–7", "choose"});
        hint(Command::who_in_net, "in net");
        hint(Command::sort_list, "sort");
        hint(Command::find_shots, "find");
        hint(Command::take_shot, "to the film");
        hint(Command::remove, "remove");
        hint(Command::undo, "undo");
        hint(Command::put_down, "back");
    } else if (log.fit) {
        hint(Command::other_landmark, "another point or line");
        hint(Command::lay_on_paint, "lay onto the paint");
        hint(Command::remove, "drop the last click");
        hint(Command::take_shot, "keep the fit");
        hint(Command::put_down, "leave it");
        hint(Command::magnify, "closer");
        hint(Command::whole_picture, "whole picture");
    } else if (chosen_shot(log)) {
        hints = {{"1–7", "choose"}};
        hint(Command::next_field, "next line");
        hint(Command::mark_skates, "skates");
        hint(Command::mark_puck, "puck");
        hint(Command::mark_threat, "opponent");
        hint(Command::take_ghosts, "as before");
        hint(Command::new_moment, "moment");
        hint(Command::loop_shot, "loop");
        hint(Command::nudge_left, "nudge");
        hint(Command::take_shot, "shot done");
        hint(Command::remove, "remove");
        hint(Command::undo, "undo");
    } else {
        hint(Command::frame_back, "");
        hint(Command::frame_on, "frame");
        hint(Command::ten_on, "ten");
        hint(Command::second_on, "second");
        hint(Command::run_film, "run");
        hint(Command::previous_shot, "");
        hint(Command::next_shot, "shots");
        hint(Command::new_shot, "new shot here");
        hint(Command::fit_rink, "fit the rink");
        hint(Command::set_clock, "game clock");
        hint(Command::games, "games, films");
    }
    const auto width_of = [&](const Hint& one) {
        return text_size(look.body, one.label).x + text_size(look.strong, shown_chord(one.chord)).x +
               1.2F * look.unit;
    };
    const Hint every{chord_of(Command::key_sheet), "all keys"}; // always there, at the right end
    const float end = place.x + place.width - width_of(every) - 0.9F * look.unit;
    draw_key(app, draw, {end, place.y + 0.32F * look.unit}, every.chord, every.label);
    float x = place.x + 0.9F * look.unit;
    const float y = place.y + 0.32F * look.unit;
    for (const Hint& one : hints) {
        if (x + width_of(one) > end - 0.5F * look.unit) break;
        x +=
            draw_key(app, draw, {x, y}, one.chord, one.label) + (one.label.empty() ? 0.0F : 1.1F * look.unit);
    }
    ImGui::End();
}

} // namespace ropeline
