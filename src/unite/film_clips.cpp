#include "unite/film_clips.h"

#include "film/film_error.h"
#include "film/fingerprint.h"
#include "unite/cut_clip.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

constexpr double run_up_s = 4.0, after_s = 3.0;
constexpr double apart_s = 1.0; ///< from what is marked of another goalie

std::optional<FrameSpan> marked_on(const LoggedPlay& play, const Id& film_id) {
    std::optional<FrameSpan> span;
    const auto add = [&](std::int64_t frame) {
        if (!span) span = FrameSpan{frame, frame};
        span->first = std::min(span->first, frame);
        span->last = std::max(span->last, frame);
    };
    if (play.shot.film_id == film_id) add(play.shot.frame);
    for (const Moment& moment : play.moments)
        if (moment.film_id == film_id) add(moment.frame);
    return span;
}

std::vector<FrameSpan> marked_on(const std::vector<LoggedPlay>& plays, const Id& film_id,
                                 std::int64_t frames) {
    std::vector<FrameSpan> spans;
    for (const LoggedPlay& play : plays)
        if (const auto span = marked_on(play, film_id); span && span->last < frames) spans.push_back(*span);
    return spans;
}

std::vector<FrameSpan> spans_on(const FrameTable& frames, const std::vector<FrameSpan>& own,
                                const std::vector<FrameSpan>& others) {
    std::vector<PlayFrames> plays;
    for (const FrameSpan& marked : own) {
        const double from_s = frames.seconds_of(FrameIndex{marked.first}) - run_up_s;
        const double to_s = frames.seconds_of(FrameIndex{marked.last}) + after_s;
        plays.push_back({marked,
                         {std::min(number(frames.shown_at(from_s)), marked.first),
                          std::max(number(frames.shown_at(to_s)), marked.last)}});
    }
    const double length_s =
        frames.seconds_of(frames.clamp(frames.count() - 1)) - frames.seconds_of(FrameIndex{0});
    const double rate_hz = length_s > 0.0 ? static_cast<double>(frames.count() - 1) / length_s : 30.0;
    return clip_spans(plays, others, std::llround(apart_s * rate_hz));
}

CutClip cut(FilmReader& reader, FrameSpan span, const Film& of, const std::filesystem::path& path) {
    cut_clip(reader, span, path);
    const FilmReader made(path.string());
    if (made.frames().count() != span.last - span.first + 1)
        throw FilmError(FilmFault::damaged,
                        fmt::format("{}: the clip came out with {} frames instead of {}", path.string(),
                                    made.frames().count(), span.last - span.first + 1));
    CutClip clip{{}, span, reader.frames().seconds_of(FrameIndex{span.first}), {}, {}};
    clip.film.game_id = of.game_id;
    clip.film.path = (path.parent_path().filename() / path.filename()).string();
    clip.film.bytes = static_cast<std::int64_t>(std::filesystem::file_size(path));
    clip.film.fingerprint = film_fingerprint(path.string());
    clip.film.shown = {made.facts().shown_width_px, made.facts().shown_height_px};
    clip.film.frame_count = made.frames().count();
    for (std::int64_t frame = 0; frame < made.frames().count(); ++frame) {
        clip.pts.push_back(made.frames().pts_of(FrameIndex{frame}).ticks);
        clip.seconds.push_back(made.frames().seconds_of(FrameIndex{frame}));
    }
    clip.film.first_s = clip.seconds.front();
    clip.film.last_s = clip.seconds.back();
    return clip;
}

} // namespace

const CutClip* CutFilms::clip_with(const Id& film_id, std::int64_t frame) const {
    const auto clips = by_film.find(film_id);
    if (clips == by_film.end()) return nullptr;
    const auto clip =
        std::ranges::find_if(clips->second, [&](const CutClip& one) { return one.span.has(frame); });
    return clip == clips->second.end() ? nullptr : &*clip;
}

int CutFilms::count() const {
    int all = 0;
    for (const auto& [film, clips] : by_film)
        all += static_cast<int>(clips.size());
    return all;
}

CutFilms cut_films(const SeasonFile& season, const std::vector<LoggedPlay>& own,
                   const std::vector<LoggedPlay>& others, const std::filesystem::path& folder,
                   const Progress& progress) {
    CutFilms cut_of;
    std::vector<Film> films;
    for (const Game& game : season.games())
        for (Film& film : season.films(game.id))
            if (std::ranges::any_of(
                    own, [&](const LoggedPlay& play) { return marked_on(play, film.id).has_value(); }))
                films.push_back(std::move(film));
    for (std::size_t i = 0; i < films.size(); ++i) {
        const Film& film = films[i];
        try {
            FilmReader reader(film_path(season, film).string());
            if (!can_be_cut(reader.facts())) {
                cut_of.told.push_back(
                    fmt::format("a film of {} x {} pixels cannot be cut: its shots have no clip",
                                reader.facts().shown_width_px, reader.facts().shown_height_px));
                continue;
            }
            std::filesystem::create_directories(folder);
            const std::int64_t frames = reader.frames().count();
            for (const FrameSpan& span : spans_on(reader.frames(), marked_on(own, film.id, frames),
                                                  marked_on(others, film.id, frames)))
                cut_of.by_film[film.id].push_back(
                    cut(reader, span, film, folder / fmt::format("clip-{:03}.mp4", cut_of.count() + 1)));
        } catch (const FilmError& error) {
            if (cut_of.by_film.contains(film.id)) throw;
            cut_of.told.push_back(fmt::format(
                "a film is not there or cannot be read, so its shots have no clip ({})", error.what()));
        }
        if (progress) progress(static_cast<double>(i + 1) / static_cast<double>(films.size()));
    }
    return cut_of;
}

} // namespace ropeline
