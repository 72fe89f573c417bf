// Every format a rink camera or phone writes, each frame in every order, against `ffmpeg -f framemd5`.
#include "film/film_desk.h"
#include "film/film_error.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <functional>
#include <numeric>
#include <random>
#include <thread>

#include "film/format_clips.h"
#include "film/truth.h"

using namespace ropeline;

namespace {

using Truth = std::vector<clips::TrueFrame>;

/// Frames whose pixels or time differ from the truth, as one line; empty when all is right.
std::string differences(const Truth& truth, const std::vector<std::int64_t>& order, const FrameTable& frames,
                        const std::function<PicturePtr(FrameIndex)>& picture) {
    if (frames.count() != static_cast<std::int64_t>(truth.size())) {
        return std::to_string(frames.count()) + " frames, " + std::to_string(truth.size()) + " expected";
    }
    std::string wrong;
    int count = 0;
    for (const std::int64_t i : order) {
        const FrameIndex frame{i};
        const auto& expected = truth[static_cast<std::size_t>(i)];
        std::string why;
        try {
            const PicturePtr got = picture(frame);
            if (got->md5() != expected.md5) why = "pixels";
            if (got->pts() != frames.pts_of(frame)) why += " pts";
        } catch (const FilmError&) {
            why = "missing";
        }
        const TimeBase base = frames.time_base();
        const double seconds =
            static_cast<double>(frames.pts_of(frame).ticks) * base.numerator / base.denominator;
        if (std::abs(seconds - expected.seconds) > 2e-6) why += " time";
        if (!why.empty() && ++count <= 5) wrong += std::to_string(i) + ": " + why + "; ";
    }
    return count > 5 ? wrong + std::to_string(count) + " in all" : wrong;
}

/// Steps of -3..+3, and now and then a jump.
std::vector<std::int64_t> random_walk(std::int64_t frames, std::mt19937& random) {
    std::vector<std::int64_t> walk{0};
    while (walk.size() < 500) {
        const auto draw = random();
        const std::int64_t step = static_cast<std::int64_t>(draw % 7) - 3;
        const bool jump = draw / 7 % 20 == 0;
        const std::int64_t next =
            jump ? static_cast<std::int64_t>(random() % static_cast<unsigned>(frames)) : walk.back() + step;
        walk.push_back(std::clamp<std::int64_t>(next, 0, frames - 1));
    }
    return walk;
}

PicturePtr waited_for(FilmDesk& desk, FrameIndex frame, int direction) {
    desk.want(frame, direction);
    for (int i = 0; i < 60000; ++i) {
        if (PicturePtr picture = desk.cached(frame)) return picture;
        if (!desk.missing(frame).empty()) break;
        std::this_thread::sleep_for(std::chrono::microseconds(500));
    }
    throw FilmError(FilmFault::damaged, "the desk's film never had it");
}

void check_every_order(const std::string& path, const Truth& truth, unsigned seed, FilmOptions options = {}) {
    options.threads = clips::decoder_threads;
    REQUIRE(!truth.empty());
    const auto count = static_cast<std::int64_t>(truth.size());
    std::mt19937 random(seed);
    std::vector<std::int64_t> forward(truth.size());
    std::iota(forward.begin(), forward.end(), 0);
    const std::vector<std::int64_t> backward(forward.rbegin(), forward.rend());
    std::vector<std::int64_t> shuffled = forward;
    std::shuffle(shuffled.begin(), shuffled.end(), random);

    FilmReader film(path, options);
    const auto read = [&](FrameIndex frame) { return film.picture(frame); };
    CHECK(differences(truth, forward, film.frames(), read) == "");
    CHECK(differences(truth, shuffled, film.frames(), read) == "");
    CHECK(differences(truth, backward, film.frames(), read) == "");

    // A cache of a dozen pictures: sequences have to be decoded in parts.
    FilmOptions tight = options;
    tight.cache_bytes = film.picture(FrameIndex{0})->bytes() * 12;
    FilmReader small(path, tight);
    CHECK(differences(truth, backward, small.frames(),
                      [&](FrameIndex frame) { return small.picture(frame); }) == "");

    tight.kept_index = film.index_to_keep();
    FilmReader again(path, tight);
    CHECK(again.index_to_keep() == tight.kept_index);
    CHECK(differences(truth, shuffled, again.frames(),
                      [&](FrameIndex frame) { return again.picture(frame); }) == "");

    FilmDesk desk(path, tight);
    for (int i = 0; i < 20000 && desk.state() == FilmDesk::State::opening; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    REQUIRE(desk.state() == FilmDesk::State::ready);
    CHECK(desk.first_picture()->md5() == truth.front().md5);
    CHECK(desk.index_to_keep() == tight.kept_index);
    CHECK(desk.holes().empty());
    FrameIndex last{0};
    const auto walk = [&](FrameIndex frame) {
        const int direction = frame < last ? -1 : frame > last ? 1 : 0;
        last = frame;
        return waited_for(desk, frame, direction);
    };
    CHECK(differences(truth, random_walk(count, random), *desk.frames(), walk) == "");
}

} // namespace

TEST_CASE("every format, forward, backward to the first frame, shuffled, and as a random walk") {
    const clips::Folder folder;
    const unsigned seed = std::random_device{}();
    MESSAGE("seed of the shuffles and walks: " << seed);
    for (const clips::Clip& clip : clips::format_clips()) {
        CAPTURE(std::string(clip.file));
        CAPTURE(seed);
        clips::make(clip, folder.path().string());
        const std::string path = folder.file(clip.file);
        check_every_order(path, clips::truth_of(path), seed);
    }
}

TEST_CASE("of two picture streams either can be chosen") {
    const clips::Folder folder;
    const std::string path = folder.file("two.mkv");
    clips::ffmpeg("-f lavfi -i testsrc2=s=128x72:r=25:d=2 -f lavfi -i testsrc=s=96x64:r=30:d=2 -map 0 -map 1 "
                  "-c:v libx264 " +
                  clips::quoted(path));
    check_every_order(path, clips::truth_of(path, 0), 1, {.stream = 0});
    check_every_order(path, clips::truth_of(path, 1), 1, {.stream = 1});
    CHECK_THROWS_WITH_AS(FilmReader(path, {.stream = 2}), doctest::Contains("has 2 picture streams"),
                         FilmError);
}

// 640 samples a row are coded, 6 of them cropped off at the left and 10 at the right: 6 is no multiple of what
// libav's vector code likes, so by default it crops none at the left, and so does the ffmpeg command line.
TEST_CASE("a film cropped at the left by a few samples has the size its header says, and its own pixels") {
    const clips::Folder folder;
    for (const std::string codec : {"h264", "hevc"}) {
        CAPTURE(codec);
        const std::string whole = folder.file(codec + "_whole.mp4"), path = folder.file(codec + ".mp4");
        clips::ffmpeg("-f lavfi -i testsrc2=s=640x360:r=25:d=1 -c:v " +
                      std::string(codec == "h264" ? "libx264 -bf 2" : "libx265 -x265-params log-level=none") +
                      " -pix_fmt yuv420p " + clips::quoted(whole));
        clips::ffmpeg("-i " + clips::quoted(whole) + " -c copy -bsf:v " + codec +
                      "_metadata=crop_left=6:crop_right=10 " + clips::quoted(path));
        check_every_order(path, clips::truth_of(path, 0, "-flags unaligned"), 1);
        FilmReader film(path);
        CHECK(film.facts().width_px == 624);
        CHECK(film.picture(FrameIndex{3})->width_px() == 624);
    }
}

// The ffmpeg command line flattens time where it jumps back, so the truth of a joined film is that of its
// parts.
TEST_CASE("a transport stream joined from three recordings shows all of each") {
    const clips::Folder folder;
    const std::string first = folder.file("a.ts"), second = folder.file("b.ts"),
                      joined = folder.file("joined.ts");
    clips::ffmpeg("-f lavfi -i testsrc2=s=128x72:r=25:d=3 -c:v libx264 -bf 2 -g 30 " + clips::quoted(first));
    clips::ffmpeg("-f lavfi -i testsrc=s=128x72:r=25:d=3 -pix_fmt yuv420p -c:v libx264 -x264-params "
                  "open-gop=1:bframes=3:b-adapt=0:keyint=20 " +
                  clips::quoted(second));
    clips::output_of("cat " + first + " " + second + " " + first + " > " + joined);
    Truth truth = clips::truth_of(first);
    const Truth middle = clips::truth_of(second), last = truth;
    truth.insert(truth.end(), middle.begin(), middle.end());
    truth.insert(truth.end(), last.begin(), last.end());
    check_every_order(joined, truth, 1);
    const FilmReader film(joined);
    for (std::int64_t i = 0; i < film.frames().count(); ++i) {
        const FrameIndex frame{i};
        REQUIRE(film.frames().shown_at(film.frames().seconds_of(frame)) == frame);
    }
}
