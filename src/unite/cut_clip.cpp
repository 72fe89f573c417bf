#include "unite/cut_clip.h"

#include "film/film_error.h"
#include "film/movie_writer.h"
#include "film/yuv.h"

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

std::int64_t ticks_at(const FrameTable& frames, std::int64_t frame, double start_s) {
    return std::llround((frames.seconds_of(frames.clamp(frame)) - start_s) * movie_ticks_per_s);
}

} // namespace

bool can_be_cut(const FilmFacts& facts) {
    return facts.shown_width_px % 2 == 0 && facts.shown_height_px % 2 == 0;
}

void cut_clip(FilmReader& film, FrameSpan span, const std::filesystem::path& path) {
    MovieOptions options;
    options.width_px = film.facts().shown_width_px;
    options.height_px = film.facts().shown_height_px;
    options.crf = 16; // marks are looked at closely again
    MovieWriter writer(path.string(), options);
    YuvPicture onto(options.width_px, options.height_px);
    const YuvPlace place{0, 0, options.width_px, options.height_px};
    const double start_s = film.frames().seconds_of(film.frames().clamp(span.first));
    std::int64_t length = movie_ticks_per_s / 30;
    for (std::int64_t frame = span.first; frame <= span.last; ++frame) {
        try {
            put_picture(*film.picture(film.frames().clamp(frame)), film.facts(), place, onto);
        } catch (const FilmError&) {
            put_black(place, onto);
        }
        const std::int64_t at = ticks_at(film.frames(), frame, start_s);
        if (frame + 1 < film.frames().count())
            length = std::max<std::int64_t>(1, ticks_at(film.frames(), frame + 1, start_s) - at);
        writer.add(onto, at, length);
    }
    writer.finish();
}

} // namespace ropeline
