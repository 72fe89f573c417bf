#include "desk/film_stage.h"

#include <limits>
#include <utility>

namespace ropeline {

void close_film(FilmStage& stage) {
    stage.sound.stop();
    stage.carry.reset();
    stage.chances = {};
    stage.proposal = {};
    if (stage.search.work) stage.let_go.push_back(std::move(stage.search.work));
    stage.search = {};
    stage.following = {};
    stage.film.reset();
    stage.path.clear();
    stage.kept = false;
    stage.texture.clear();
    stage.on_screen.reset();
    stage.player = {};
    stage.ribbon = {};
    stage.sign.reset();
    stage.cursor.preview.reset();
    stage.cursor.texture.clear();
    stage.view.zoom = 1.0;
    stage.aim = {};
    stage.carry_asked.reset();
    stage.carry_wanted = true;
    stage.not_carried.clear();
}

std::shared_ptr<const FrameTable> frames_of(const FilmStage& stage) {
    if (!stage.film || stage.film->state() != FilmDesk::State::ready) return nullptr;
    auto frames = stage.film->frames();
    return frames && frames->count() > 0 ? frames : nullptr;
}

FrameAt frame_at(const FilmStage& stage) {
    const auto frames = frames_of(stage);
    if (!frames) return {};
    const auto facts = stage.film->facts();
    return {number(stage.player.frame),
            frames->pts_of(stage.player.frame).ticks,
            frames->seconds_of(stage.player.frame),
            {facts->shown_width_px, facts->shown_height_px}};
}

std::int64_t frame_seen(const FilmStage& stage) {
    return number(stage.on_screen.value_or(stage.player.frame));
}

void let_go_of_step(FilmStage& stage) {
    if (stage.step_held != 0 && stage.step_held_s >= hold_to_run_s) stage.player = held(stage.player);
    stage.step_held = 0;
}

void pass_film_time(FilmStage& stage, double elapsed_s) {
    pass_view_time(stage.aim, elapsed_s);
    const auto frames = frames_of(stage);
    if (!frames) return;
    if (stage.step_held != 0) {
        const bool ran = stage.step_held_s >= hold_to_run_s;
        stage.step_held_s += elapsed_s;
        const bool at_end = number(stage.player.frame) == (stage.step_held > 0 ? frames->count() - 1 : 0);
        if (!ran && stage.step_held_s >= hold_to_run_s && !at_end)
            stage.player = running(stage.player, stage.step_held, *frames);
    }
    const FrameIndex before = stage.player.frame;
    stage.player = ticked(stage.player, stage.player.now_s + elapsed_s, *frames);
    // A loop that begins again takes the sound back with it.
    if (stage.player.loop && stage.player.clock.speed > 0.0 && stage.player.frame < before)
        stage.sound.stop();
}

bool show_opening(FilmStage& stage) {
    if (!stage.film || stage.film->state() != FilmDesk::State::opening) return false;
    const PicturePtr picture = stage.film->first_picture();
    if (picture && !stage.texture.filled()) {
        const auto facts = stage.film->facts();
        stage.view.shown = {facts->shown_width_px, facts->shown_height_px};
        stage.texture.put(*picture, *facts);
    }
    return true;
}

namespace {

/// Sound runs while the film runs forward at full speed; then the film follows the sound that is heard.
void follow_sound(FilmStage& stage, const FilmFacts& facts) {
    Player& player = stage.player;
    const bool sounds = player.playing && player.clock.speed == 1.0 && facts.has_sound && !stage.muted;
    if (!sounds) {
        stage.sound.stop();
        return;
    }
    if (!stage.sound.playing()) {
        const double from_s = film_time(player.clock, player.now_s);
        const double until_s = stage.sound_until_s.value_or(std::numeric_limits<double>::infinity());
        stage.sound.play(stage.path, from_s, until_s);
    }
    if (const auto heard = stage.sound.heard_s())
        player.clock = led_by_sound(player.clock, *heard, player.now_s);
}

/// Fetches what the cursor over the ribbon asks for. True while a picture is awaited.
bool show_under_cursor(FilmStage& stage, const FilmFacts& facts) {
    CursorPicture& cursor = stage.cursor;
    if (cursor.wanted && !cursor.preview)
        cursor.preview = std::make_unique<FilmPreview>(stage.path, stage.film->index_to_keep());
    if (cursor.wanted) cursor.preview->ask(*cursor.wanted, cursor.within);
    cursor.wanted.reset();
    if (!cursor.preview) return false;
    const auto seen = cursor.preview->take();
    if (seen) cursor.texture.put(*seen->picture, facts);
    return seen || cursor.preview->awaited();
}

struct CachedFrame {
    FrameIndex frame{};
    PicturePtr picture;
};

/// The frame itself; of a film that runs faster than it can be decoded, the last one before it that is there.
CachedFrame newest_cached(const FilmDesk& film, FrameIndex due, std::int64_t stride) {
    const std::int64_t furthest = stride > 1 ? 12 * stride : 0;
    for (std::int64_t back = 0; back <= furthest && back <= number(due); ++back) {
        const FrameIndex frame{number(due) - back};
        if (PicturePtr picture = film.cached(frame)) return {frame, std::move(picture)};
    }
    return {};
}

} // namespace

bool show_frame(FilmStage& stage, const FilmFacts& facts) {
    follow_sound(stage, facts);
    const bool looking = show_under_cursor(stage, facts);
    const bool moving = stage.player.playing || stage.step_held != 0;
    if (stage.on_screen == stage.player.frame) return moving || looking;
    const std::int64_t stride = frames_a_picture(stage.player, facts.average_rate_hz);
    const FrameIndex due = picture_due(stage.player, stride);
    if (stage.on_screen == due) return true;
    stage.film->want(due, stage.player.direction, stride);
    const auto [frame, picture] = newest_cached(*stage.film, due, stride);
    if (picture && stage.on_screen != frame) {
        stage.texture.put(*picture, facts);
        stage.on_screen = frame;
    }
    return true;
}

} // namespace ropeline
