#include "reel/time_line.h"

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

std::int64_t rounded(double ticks) {
    return std::llround(ticks);
}

std::int64_t ticks_in(double seconds) {
    return rounded(seconds * movie_ticks_per_s);
}

/// From one frame's beginning to the end of another.
std::int64_t span_of(const FrameTable& frames, FrameIndex first, FrameIndex last) {
    const std::int64_t begin = ticks_of(frames, first);
    if (number(last) + 1 < frames.count()) return ticks_of(frames, FrameIndex{number(last) + 1}) - begin;
    return ticks_of(frames, last) - begin + usual_ticks(frames);
}

/// The frame at which each of the plays is about its moment.
FrameIndex main_frame(const ShownPlay& play, const FrameTable& frames) {
    const ShownMoment* main = main_moment(play);
    return frames.clamp(main ? main->moment.frame : play.shot.frame);
}

FrameIndex frame_beside(const FrameTable& frames, FrameIndex from, double seconds) {
    return frames.shown_at(frames.seconds_of(from) + seconds);
}

std::vector<std::size_t> stops_of(const ShownPlay& play, ReelTiming::Stops wanted) {
    std::vector<std::size_t> stops;
    for (std::size_t index = 0; index < play.moments.size(); ++index) {
        const bool main = &play.moments[index] == main_moment(play);
        if (wanted == ReelTiming::Stops::every || (wanted == ReelTiming::Stops::main && main))
            stops.push_back(index);
    }
    return stops;
}

/// Grows piece by piece.
struct Pieces {
    const std::vector<const FrameTable*>& frames;
    std::vector<ReelPiece> list;
    std::int64_t at = 0;

    const FrameTable& of(const PlayOnScreen& shown) const { return *frames[shown.play]; }

    void run(std::vector<PlayOnScreen> shown, double speed) {
        const PlayOnScreen& leads = shown.front();
        if (number(leads.last) < number(leads.first)) return;
        const std::int64_t length =
            rounded(static_cast<double>(span_of(of(leads), leads.first, leads.last)) / speed);
        list.push_back({PieceKind::run, at, length, std::move(shown), speed, 0, {}, {}});
        at += length;
    }

    void freeze(std::vector<PlayOnScreen> shown, double seconds) {
        const std::int64_t each = usual_ticks(of(shown.front()));
        const std::int64_t length = std::max<std::int64_t>(1, ticks_in(seconds) / each) * each;
        list.push_back({PieceKind::freeze, at, length, std::move(shown), 1.0, each, {}, {}});
        at += length;
    }
};

void add_one(Pieces& pieces, std::size_t index, const ShownPlay& play, const ReelTiming& timing) {
    const FrameTable& frames = *pieces.frames[index];
    const std::vector<std::size_t> stops = stops_of(play, timing.stops);
    const FrameIndex first_stop =
        stops.empty() ? main_frame(play, frames) : frames.clamp(play.moments[stops.front()].moment.frame);
    FrameIndex from = frame_beside(frames, first_stop, -timing.run_up_s);
    double speed = 1.0;
    FrameIndex last_stop = first_stop;
    for (const std::size_t stop : stops) {
        const FrameIndex at = frames.clamp(play.moments[stop].moment.frame);
        pieces.run({{index, from, FrameIndex{number(at) - 1}, {}}}, speed);
        pieces.freeze({{index, at, at, stop}}, timing.freeze_s);
        speed = timing.speed_on;
        from = FrameIndex{std::max(number(from), number(at))};
        last_stop = at;
    }
    pieces.run({{index, from, frame_beside(frames, last_stop, timing.after_s), {}}}, speed);
}

void add_two(Pieces& pieces, std::span<const std::size_t> of, const std::vector<ShownPlay>& plays,
             const ReelTiming& timing) {
    std::vector<PlayOnScreen> before, now, after;
    for (const std::size_t index : of) {
        const FrameTable& frames = *pieces.frames[index];
        const FrameIndex main = main_frame(plays[index], frames);
        std::optional<std::size_t> moment;
        if (const ShownMoment* shown = main_moment(plays[index]))
            moment = static_cast<std::size_t>(shown - plays[index].moments.data());
        before.push_back(
            {index, frame_beside(frames, main, -timing.run_up_s), FrameIndex{number(main) - 1}, {}});
        now.push_back({index, main, main, moment});
        after.push_back({index, main, frame_beside(frames, main, timing.after_s), {}});
    }
    pieces.run(before, 1.0);
    pieces.freeze(now, timing.freeze_s);
    pieces.run(after, timing.speed_on);
}

} // namespace

std::int64_t ticks_of(const FrameTable& frames, FrameIndex frame) {
    return rounded((frames.seconds_of(frame) - frames.seconds_of(FrameIndex{0})) * movie_ticks_per_s);
}

std::int64_t usual_ticks(const FrameTable& frames) {
    if (frames.count() < 2) return movie_ticks_per_s / 30;
    std::vector<std::int64_t> lengths;
    const std::int64_t looked_at = std::min<std::int64_t>(frames.count() - 1, 600);
    for (std::int64_t frame = 0; frame < looked_at; ++frame)
        lengths.push_back(ticks_of(frames, FrameIndex{frame + 1}) - ticks_of(frames, FrameIndex{frame}));
    const auto middle = lengths.begin() + static_cast<std::ptrdiff_t>(lengths.size() / 2);
    std::nth_element(lengths.begin(), middle, lengths.end());
    return std::max<std::int64_t>(1, *middle);
}

std::vector<ReelPiece> pieces_of(std::span<const std::size_t> of, const std::vector<ShownPlay>& plays,
                                 const std::vector<const FrameTable*>& frames, const ReelTiming& timing,
                                 std::int64_t begins) {
    Pieces pieces{frames, {}, begins};
    if (of.size() > 1)
        add_two(pieces, of, plays, timing);
    else
        add_one(pieces, of.front(), plays[of.front()], timing);
    return std::move(pieces.list);
}

std::vector<ReelPicture> pictures_of(std::size_t index, const ReelPiece& piece,
                                     const std::vector<ShownPlay>& plays,
                                     const std::vector<const FrameTable*>& frames) {
    std::vector<ReelPicture> pictures;
    const auto add = [&](std::int64_t at, std::vector<FrameIndex> shown, bool same) {
        if (!pictures.empty()) pictures.back().length = at - pictures.back().at;
        pictures.push_back({at, piece.begins + piece.length - at, index, std::move(shown), same});
    };
    if (piece.kind != PieceKind::run) {
        std::vector<FrameIndex> shown;
        for (const PlayOnScreen& one : piece.shown)
            shown.push_back(one.first);
        for (std::int64_t passed = 0; passed < piece.length; passed += piece.picture_ticks)
            add(piece.begins + passed, shown, passed > 0);
        return pictures;
    }
    const PlayOnScreen& leads = piece.shown.front();
    const FrameTable& led_by = *frames[leads.play];
    for (std::int64_t frame = number(leads.first); frame <= number(leads.last); ++frame) {
        const std::int64_t passed = ticks_of(led_by, FrameIndex{frame}) - ticks_of(led_by, leads.first);
        std::vector<FrameIndex> shown{FrameIndex{frame}};
        for (std::size_t other = 1; other < piece.shown.size(); ++other) {
            // Both plays are at their own moment at the same time: before it they are counted back from there.
            const PlayOnScreen& one = piece.shown[other];
            const FrameTable& table = *frames[one.play];
            const double off_s = led_by.seconds_of(FrameIndex{frame}) -
                                 led_by.seconds_of(main_frame(plays[leads.play], led_by));
            const FrameIndex there =
                table.shown_at(table.seconds_of(main_frame(plays[one.play], table)) + off_s + 1e-6);
            shown.push_back(FrameIndex{
                std::clamp(number(there), number(one.first), std::max(number(one.first), number(one.last)))});
        }
        add(piece.begins + rounded(static_cast<double>(passed) / piece.speed), std::move(shown), false);
    }
    return pictures;
}

} // namespace ropeline
