// The strip under the picture: the film's length, its shots, its rink fits, where you are.
#include "desk/panels/ribbon.h"

#include "desk/panels/other_films.h"
#include "desk/panels/sign_drag.h"
#include "desk/panels/transport.h"
#include "season/clock_words.h"
#include "season/game_clock.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace ropeline {

namespace {

/// The strip, the stretch of film on it, and what is drawn on.
struct Strip {
    const Look& look;
    ImDrawList* draw;
    Rect at;
    const RibbonView& view;
    const FrameTable& frames;

    float x_of(double seconds) const {
        return std::clamp(view.x_of(seconds, at), at.x - 2.0F * look.unit,
                          at.x + at.width + 2.0F * look.unit);
    }
    float x_of_frame(std::int64_t frame) const { return x_of(frames.seconds_of(frames.clamp(frame))); }
    double begin_s() const { return frames.seconds_of(FrameIndex{0}); }
    bool close_up() const {
        const RibbonView whole = whole_film(frames);
        return view.first_s > whole.first_s || view.last_s < whole.last_s;
    }
};

FollowedRink::Kind kind_of(const FitHere& here) {
    if (here.source == FitHere::Source::lost) return FollowedRink::Kind::lost;
    if (here.source != FitHere::Source::carried && here.source != FitHere::Source::clicked)
        return FollowedRink::Kind::unknown;
    return here.state == CarryState::held ? FollowedRink::Kind::held : FollowedRink::Kind::unsure;
}

/// Asked of the log only when log, stretch or width have changed.
void follow_along(FollowedRink& rink, const Strip& strip, const LogState& log) {
    if (rink.revision == log.revision && rink.view.first_s == strip.view.first_s &&
        rink.view.last_s == strip.view.last_s && rink.width == strip.at.width && !rink.along.empty())
        return;
    rink = {{}, log.revision, strip.view, strip.at.width};
    for (float x = 0.0F; x < strip.at.width; x += 2.0F) {
        const double film_s = strip.view.film_s_at(strip.at.x + x, strip.at);
        rink.along.push_back(kind_of(fit_here(log, number(strip.frames.shown_at(film_s)))));
    }
}

/// Where the rink is held (solid), unsure (dashes) and lost (crosses), under the shots.
void draw_followed(const Strip& strip, const FollowedRink& rink) {
    const Palette& c = strip.look.colours;
    const float y = strip.at.y + strip.at.height - 0.1F * strip.look.unit;
    const float tall = 0.11F * strip.look.unit;
    for (std::size_t step = 0; step < rink.along.size(); ++step) {
        const std::size_t pixel = 2 * step;
        const float x = strip.at.x + static_cast<float>(pixel);
        const FollowedRink::Kind kind = rink.along[step];
        if (kind == FollowedRink::Kind::lost && pixel % 8 < 2) {
            strip.draw->AddLine({x - 2.0F, y - 3.0F}, {x + 2.0F, y + 3.0F}, c.trouble, 1.5F);
            strip.draw->AddLine({x - 2.0F, y + 3.0F}, {x + 2.0F, y - 3.0F}, c.trouble, 1.5F);
        } else if (kind == FollowedRink::Kind::held ||
                   (kind == FollowedRink::Kind::unsure && pixel % 8 < 4)) {
            strip.draw->AddRectFilled({x, y - tall}, {x + 2.0F, y + tall},
                                      kind == FollowedRink::Kind::unsure ? c.rope : c.save);
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

/// The game clock along the upper edge: a tick at each mark, a line where the clock runs, hatching where it
/// stands.
void draw_clock(const Look& look, ImDrawList* draw, const Rect& strip, const RibbonView& view,
                const LogState& log) {
    const Palette& c = look.colours;
    const auto marks = clock_marks_of(log, open_film(log));
    if (marks.empty()) return;
    const float tall = 0.26F * look.unit;
    const float slant = 0.4F * tall;
    for (float x = strip.x; x < strip.x + strip.width - slant; x += 4.0F) {
        const auto time = game_time_at(marks, view.film_s_at(x, strip));
        if (time->standing) {
            draw->AddLine({x, strip.y + tall}, {x + slant, strip.y}, c.quiet, 1.5F);
        } else {
            draw->AddLine({x, strip.y + 0.5F * tall}, {x + 4.0F, strip.y + 0.5F * tall}, c.quiet, 1.5F);
        }
    }
    for (const ClockMark& mark : marks) {
        const float x = view.x_of(mark.film_s, strip);
        if (x < strip.x || x > strip.x + strip.width) continue;
        draw->AddLine({x, strip.y - 0.1F * look.unit}, {x, strip.y + 0.45F * look.unit}, c.text,
                      look.pen(2.0F));
        if (ImGui::IsMouseHoveringRect({x - 4.0F, strip.y - 2.0F}, {x + 4.0F, strip.y + 0.5F * look.unit})) {
            ImGui::SetTooltip("%s%s", game_time_words(mark.period, mark.clock_s).c_str(),
                              mark.running ? "" : " stands");
        }
    }
}

/// What looking the film through found, behind all else: a band where a net is in view, a line through its middle where
/// they stand still, ticks for cuts, dots above for whistles and for what is loud, and a bar for each likely chance, the
/// taller the more speaks for it.
void draw_found(const Strip& strip, const FilmMarks& marks) {
    const Palette& c = strip.look.colours;
    const Rect& at = strip.at;
    const float unit = strip.look.unit, foot = at.y + at.height;
    for (const RibbonSpan& span : spans_on(strip.view, at, marks.net_in_view))
        strip.draw->AddRectFilled({span.from, at.y + 0.28F * at.height}, {span.to, foot - 0.2F * at.height},
                                  faded(c.text, 0.13F));
    for (const RibbonSpan& span : spans_on(strip.view, at, marks.still))
        strip.draw->AddLine({span.from, at.y + 0.54F * at.height}, {span.to, at.y + 0.54F * at.height},
                            faded(c.quiet, 0.6F), 1.0F);
    for (const float x : ticks_on(strip.view, at, marks.cuts_s, 3.0F))
        strip.draw->AddLine({x, at.y + 0.28F * at.height}, {x, foot - 0.2F * at.height},
                            faded(c.quiet, 0.45F));
    for (const RibbonSpan& span : spans_on(strip.view, at, marks.loud))
        strip.draw->AddLine({span.from, at.y + 1.5F}, {span.to, at.y + 1.5F}, faded(c.quiet, 0.55F), 2.0F);
    for (const LikelyChance& chance : marks.chances) {
        if (chance.at_s < strip.view.first_s || chance.at_s > strip.view.last_s) continue;
        const float x = strip.x_of(chance.at_s), half = 0.11F * unit;
        const auto tall = static_cast<float>((0.35 + 0.5 * chance.score) * at.height);
        strip.draw->AddRectFilled({x - half, foot - tall}, {x + half, foot}, faded(c.rope, 0.75F));
    }
}

/// Above the strip, in the room between it and the words.
void draw_whistles(const Strip& strip, const FilmMarks& marks) {
    for (const RibbonSpan& span : spans_on(strip.view, strip.at, marks.whistles))
        strip.draw->AddCircleFilled({0.5F * (span.from + span.to), strip.at.y - 0.22F * strip.look.unit},
                                    0.13F * strip.look.unit, strip.look.colours.quiet);
}

/// Times under the strip.
void draw_ticks(const Strip& strip, float right) {
    const Look& look = strip.look;
    const Palette& c = look.colours;
    const float foot = strip.at.y + strip.at.height;
    const double first = strip.begin_s();
    const double step = ribbon_tick_s(strip.view, strip.at, 5.0F * look.unit);
    for (double at = step * std::ceil((strip.view.first_s - first) / step - 1e-6);
         first + at <= strip.view.last_s; at += step) {
        const float x = strip.x_of(first + at);
        strip.draw->AddLine({x, foot}, {x, foot + 0.3F * look.unit}, c.edge);
        if (x + 3.0F * look.unit < right) {
            draw_text(strip.draw, look.body, {x + 0.2F * look.unit, foot + 0.1F * look.unit}, c.faint,
                      step < 1.0 ? film_time(at) : clock_words(at));
        }
    }
}

void draw_holes(const Strip& strip, const std::vector<FilmHole>& holes) {
    const ImU32 trouble = strip.look.colours.trouble;
    const float top = strip.at.y;
    const float foot = strip.at.y + strip.at.height;
    for (const FilmHole& hole : holes) {
        const float from = strip.x_of_frame(number(hole.first));
        const float to = std::max(strip.x_of_frame(number(hole.last)), from + 2.0F);
        strip.draw->AddRectFilled({from, top}, {to, foot}, faded(trouble, 0.55F));
        for (float x = from; x < to; x += 0.4F * strip.look.unit)
            strip.draw->AddLine({x, foot}, {x + 0.4F * strip.look.unit, top}, trouble);
        if (ImGui::IsMouseHoveringRect({from - 2.0F, top}, {to + 2.0F, foot}))
            ImGui::SetTooltip("%s", hole.why.c_str());
    }
}

/// A lozenge on the strip that each clicked fit starts.
void draw_fits(const Strip& strip, const std::vector<StoredFit>& fits) {
    const Palette& c = strip.look.colours;
    for (const StoredFit& fit : fits) {
        if (!fit.carried_from.empty()) continue;
        const ImVec2 at{strip.x_of_frame(fit.frame), strip.at.y + strip.at.height - 0.1F * strip.look.unit};
        const float r = 0.4F * strip.look.unit;
        const ImVec2 left{at.x - r, at.y}, top{at.x, at.y - r}, right{at.x + r, at.y}, foot{at.x, at.y + r};
        strip.draw->AddQuadFilled(left, top, right, foot, c.text);
        strip.draw->AddQuad(left, top, right, foot, c.panel, strip.look.pen(1.5F));
    }
}

/// Out  how many are on this film
std::size_t draw_shots(const Strip& strip, const LogState& log) {
    const Look& look = strip.look;
    std::size_t count = 0;
    for (const ShotEntry& entry : log.shots) {
        const Shot& shot = entry.shot;
        if (shot.film_id != open_film(log)) continue;
        ++count;
        const float x = strip.x_of_frame(shot.frame);
        if (shot.id == log.selection.shot_id()) {
            strip.draw->AddRectFilled({x - 0.6F * look.unit, strip.at.y},
                                      {x + 0.6F * look.unit, strip.at.y + strip.at.height},
                                      faded(look.colours.rope, 0.3F));
        }
        draw_outcome(strip.draw, {x, strip.at.y + 0.5F * strip.at.height}, 0.75F * look.unit, shot.outcome,
                     look.colours);
    }
    return count;
}

void draw_loop(const Strip& strip, const Loop& loop) {
    const float unit = strip.look.unit;
    strip.draw->AddRect({strip.x_of_frame(number(loop.first)), strip.at.y - 0.15F * unit},
                        {strip.x_of_frame(number(loop.last)), strip.at.y + strip.at.height + 0.15F * unit},
                        strip.look.colours.rope, 0.3F * unit, 0, strip.look.pen(2.0F));
}

void draw_playhead(const Strip& strip, std::int64_t frame) {
    const float unit = strip.look.unit;
    const ImU32 colour = strip.look.colours.text;
    const float here = strip.x_of_frame(frame);
    const float top = strip.at.y;
    strip.draw->AddLine({here, top - 0.3F * unit}, {here, top + strip.at.height + 0.3F * unit}, colour,
                        strip.look.pen(2.0F));
    strip.draw->AddTriangleFilled({here - 0.35F * unit, top - 0.55F * unit},
                                  {here + 0.35F * unit, top - 0.55F * unit}, {here, top - 0.05F * unit},
                                  colour);
}

/// Over the strip: where the film stands and how it runs. Out: where the words end.
float draw_where(const Strip& strip, ImVec2 at, const Player& player) {
    const Look& look = strip.look;
    const Palette& c = look.colours;
    const double now = strip.frames.seconds_of(player.frame) - strip.begin_s();
    at.x += draw_text(strip.draw, look.strong, at, c.text, film_time(now)).x + look.unit;
    const std::string frame = fmt::format("frame {} of {}", number(player.frame), strip.frames.count());
    at.x += draw_text(strip.draw, look.body, at, c.quiet, frame).x + look.unit;
    if (player.playing) {
        const std::string way = player.clock.speed < 0.0 ? "running back" : "running";
        at.x +=
            draw_text(strip.draw, look.body, at, c.rope, way + (player.loop ? ", around the shot" : "")).x;
    }
    return at.x;
}

/// At its right end: which stretch of which film, or how many shots are on it.
void draw_what(const Strip& strip, ImVec2 from, const LogState& log, std::size_t shots,
               const LikelyChances& chances) {
    std::string words =
        strip.close_up()
            ? fmt::format("{} to {} of the film", film_time(strip.view.first_s - strip.begin_s()),
                          film_time(strip.view.last_s - strip.begin_s()))
            : fmt::format("{} shot{} on the ribbon", shots, shots == 1 ? "" : "s");
    if (chances.scan)
        words = fmt::format("looked through to {},  {}",
                            clock_words(std::max(0.0, chances.found.until_s - strip.begin_s())), words);
    const int film = film_number(log, open_film(log));
    if (log.films.size() > 1 && film > 0)
        words = fmt::format("film {} of {},  {}", film, log.films.size(), words);
    const float right = strip.at.x + strip.at.width, room = right - from.x;
    if (room < 5.0F * strip.look.unit) return;
    words = shortened(strip.look.body, words, room);
    draw_text(strip.draw, strip.look.body, {right - text_size(strip.look.body, words).x, from.y},
              strip.look.colours.faint, words);
}

/// The picture under the cursor, over the ribbon.
void draw_cursor_picture(const Strip& strip, CursorPicture& cursor, const FilmMarks& marks, float mouse_x) {
    const Look& look = strip.look;
    const double film_s = strip.view.film_s_at(mouse_x, strip.at);
    const FrameIndex frame = strip.frames.shown_at(film_s);
    const double a_pixel = strip.view.seconds_a_pixel(strip.at);
    cursor.within = number(frame) - number(strip.frames.shown_at(film_s - 2.0 * a_pixel));
    cursor.wanted = frame;
    const std::string found = words_at(marks, film_s, 2.0 * a_pixel);
    const float pad = 0.25F * look.unit, picture_width = 15.0F * look.unit;
    const float width = std::max(picture_width, text_size(look.body, found).x + pad);
    const bool there = cursor.texture.filled() && cursor.texture.width_px() > 0;
    const float height = there ? picture_width * static_cast<float>(cursor.texture.height_px()) /
                                     static_cast<float>(cursor.texture.width_px())
                               : 0.0F;
    const std::string words =
        fmt::format("{}   frame {}", film_time(film_s - strip.begin_s()), number(frame));
    const float tall = height + (found.empty() ? 1.6F : 2.9F) * look.unit;
    const float x = std::clamp(mouse_x - 0.5F * width, strip.at.x,
                               std::max(strip.at.x, strip.at.x + strip.at.width - width));
    const ImVec2 from{x, strip.at.y - tall - 2.1F * look.unit};
    ImDrawList* draw = ImGui::GetForegroundDrawList();
    const ImVec2 corner_at{from.x - pad, from.y - pad};
    const ImVec2 far_at{from.x + width + pad, from.y + tall};
    draw->AddRectFilled(corner_at, far_at, look.colours.raised, pad);
    draw->AddRect(corner_at, far_at, look.colours.rope, pad);
    if (there) {
        draw->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(cursor.texture.id())), from,
                       {from.x + picture_width, from.y + height});
    }
    draw_text(draw, look.body, {from.x + pad, from.y + height + 0.25F * look.unit}, look.colours.text, words);
    draw_text(draw, look.body, {from.x + pad, from.y + height + 1.5F * look.unit}, look.colours.quiet, found);
}

/// Everything on the strip itself. Out: how many shots are on this film.
std::size_t draw_strip(const Strip& strip, const Rect& place, FilmStage& stage, const LogState& log) {
    ImDrawList* draw = strip.draw;
    draw->PushClipRect(corner(place), far_corner(place), true);
    draw_ticks(strip, place.x + place.width);
    if (strip.close_up()) draw_frames(draw, strip.at, strip.view, strip.frames, strip.look.colours.edge);
    draw->PushClipRect(corner(strip.at), far_corner(strip.at), true);
    draw_found(strip, stage.chances.shown);
    draw_holes(strip, stage.film->holes());
    follow_along(stage.followed, strip, log);
    draw_followed(strip, stage.followed);
    draw_fits(strip, log.fits);
    draw_clock(strip.look, draw, strip.at, strip.view, log);
    const std::size_t shots = draw_shots(strip, log);
    draw->PopClipRect();
    draw_whistles(strip, stage.chances.shown);
    if (stage.player.loop) draw_loop(strip, *stage.player.loop);
    draw->PopClipRect();
    draw_playhead(strip, number(stage.player.frame));
    return shots;
}

} // namespace

void draw_ribbon(const Panel& panel, FilmStage& stage, const LogState& log) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    const Rect& place = panel.place;
    begin_panel("ribbon", place, c.panel);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const float pad = 0.9F * look.unit;
    const Rect at{place.x + pad, place.y + 2.2F * look.unit, place.width - 2.0F * pad, 1.35F * look.unit};
    draw->AddRectFilled(corner(at), far_corner(at), c.raised, 0.2F * look.unit);
    draw_other_films(panel, log, at.x, at.width);
    const auto frames = frames_of(stage);
    if (!frames) {
        draw_text(draw, look.body, {at.x, place.y + 0.35F * look.unit}, c.quiet,
                  "The ribbon shows the film's shots here once a film is open.");
        ImGui::End();
        return;
    }
    if (stage.ribbon.last_s <= stage.ribbon.first_s) stage.ribbon = whole_film(*frames);
    // A look elsewhere with the wheel stays where it is until the film moves.
    if (std::exchange(stage.ribbon_followed, stage.player.frame) != stage.player.frame)
        stage.ribbon = ribbon_following(stage.ribbon, frames->seconds_of(stage.player.frame), *frames);
    const Strip strip{look, draw, at, stage.ribbon, *frames};
    const std::size_t shots = draw_strip(strip, place, stage, log);
    const float words_y = place.y + 0.4F * look.unit;
    const float transport = draw_transport(panel, stage, {at.x, place.y + 0.15F * look.unit}) + look.unit;
    const float words_end = draw_where(strip, {at.x + transport, words_y}, stage.player);
    draw_what(strip, {words_end + look.unit, words_y}, log, shots, stage.chances);

    ImGui::SetCursorScreenPos({at.x, at.y - 0.5F * look.unit});
    ImGui::InvisibleButton("scrub", {std::max(1.0F, at.width), at.height + 0.8F * look.unit});
    const float mouse_x = ImGui::GetIO().MousePos.x;
    const double under_s = strip.view.film_s_at(mouse_x, at);
    const bool held = drag_sign(panel, stage, log, at, under_s);
    if (!held && ImGui::IsItemActive() && (ImGui::IsItemActivated() || ImGui::GetIO().MouseDelta.x != 0.0F))
        stage.player = at_frame(stage.player, number(frames->shown_at(under_s)), *frames);
    const bool hovered = ImGui::IsItemHovered();
    ImGui::End();
    if (hovered) draw_cursor_picture(strip, stage.cursor, stage.chances.shown, mouse_x);
    if (hovered && ImGui::GetIO().MouseWheel != 0.0F)
        stage.ribbon =
            ribbon_closer(stage.ribbon, std::pow(1.6, ImGui::GetIO().MouseWheel), under_s, *frames);
}

} // namespace ropeline
