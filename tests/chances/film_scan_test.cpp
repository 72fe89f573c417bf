// A film looked through on a thread: told as it goes, gone on with, stopped, and refused in one line.
#include "chances/film_looker.h"
#include "chances/film_scan.h"

#include "film/clips.h"
#include "film/film_skim.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <thread>

using namespace ropeline;

namespace {

/// A minute of another picture every ten seconds, with a whistle at 33 s.
const std::string& film() {
    static const clips::Folder folder;
    static const std::string path = [] {
        std::string inputs, parts, all;
        int count = 0;
        for (const char* source :
             {"testsrc2", "smptebars", "mandelbrot", "testsrc", "rgbtestsrc", "testsrc2"}) {
            inputs += " -f lavfi -i " + std::string(source) + "=s=256x144:r=15";
            const std::string number = std::to_string(count++);
            parts += "[" + number + ":v]trim=0:10,setpts=PTS-STARTPTS,format=yuv420p[v" + number + "];";
            all += "[v" + number + "]";
        }
        clips::ffmpeg(
            inputs +
            " -f lavfi -i \"aevalsrc='0.01*(random(0)-0.5)+if(between(t,33,33.6),0.1*sin(2*PI*3900*t),0)'"
            ":s=48000:d=60\" -filter_complex \"" +
            parts + all +
            "concat=n=6:v=1[v]\" -map \"[v]\" -map 6:a -c:v libx264 -preset "
            "ultrafast -g 90 -bf 2 -c:a aac -t 60 " +
            clips::quoted(folder.file("film.mp4")));
        return folder.file("film.mp4");
    }();
    return path;
}

FilmMarks waited_for(FilmScan& scan) {
    FilmMarks marks;
    for (int i = 0; i < 12000; ++i) {
        const bool finished = scan.finished();
        if (auto found = scan.take()) marks = *std::move(found);
        if (finished) return marks;
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    return marks;
}

} // namespace

TEST_CASE(
    "skimming hands on a picture about every step, in order, without decoding those no other leans on") {
    FilmSkim skim(film(), {}, 0.2);
    std::int64_t last = -1, seen = 0;
    while (const auto next = skim.next()) {
        CHECK(number(next->frame) > last);
        CHECK(next->picture != nullptr);
        last = number(next->frame);
        ++seen;
    }
    CHECK(seen > 150);
    CHECK(skim.decoded() < skim.frames().count());
    skim.go_to(41.0);
    const auto there = skim.next();
    REQUIRE(there);
    CHECK(std::abs(skim.frames().seconds_of(there->frame) - 41.0) < 0.4);
}

TEST_CASE("of a film too large to be decoded whole the beginning of each sequence is seen, the first picture "
          "at least") {
    FilmSkim whole(film(), {}, 0.2);
    std::int64_t pictures = 0;
    while (whole.next())
        ++pictures;
    const double px_a_second = 256.0 * 144.0 * static_cast<double>(whole.decoded()) / 60.0;
    FilmSkim half(film(), {}, 0.2, 0.5 * px_a_second);
    double last_s = 0.0, longest_s = 0.0;
    std::int64_t seen = 0;
    while (const auto next = half.next()) {
        const double at_s = half.frames().seconds_of(next->frame);
        CHECK(at_s >= last_s);
        longest_s = std::max(longest_s, at_s - last_s);
        last_s = at_s;
        ++seen;
    }
    CHECK(static_cast<double>(half.decoded()) < 0.65 * static_cast<double>(whole.decoded()));
    CHECK(seen > pictures / 3);
    CHECK(longest_s < 0.6 * 6.0 + 0.5); // sequences of six seconds
    FilmSkim keys_only(film(), {}, 0.2, 1.0);
    seen = 0;
    while (keys_only.next())
        ++seen;
    CHECK(seen >= 10);
    CHECK(seen < pictures / 4);
}

TEST_CASE("where decoding may begin anywhere only the wanted pictures are decoded") {
    const clips::Folder folder;
    const std::string path = folder.file("intra.avi");
    clips::ffmpeg("-f lavfi -i testsrc2=s=96x54:r=30:d=10 -c:v mjpeg " + clips::quoted(path));
    FilmSkim skim(path, {}, 0.2);
    int seen = 0;
    while (skim.next())
        ++seen;
    CHECK(seen >= 48);
    CHECK(seen <= 52);
    CHECK(skim.decoded() <= seen + 2);
}

TEST_CASE("a scan finds the film's cuts and its whistle and says when it has all") {
    FilmScan scan({film(), {}, {}});
    const FilmMarks marks = waited_for(scan);
    CHECK(scan.error().empty());
    CHECK(marks.whole);
    for (const double cut : {10.0, 20.0, 30.0, 40.0, 50.0}) {
        CAPTURE(cut);
        CHECK(std::ranges::any_of(marks.cuts_s, [&](double at) { return std::abs(at - cut) < 0.5; }));
    }
    REQUIRE(marks.whistles.size() == 1);
    CHECK(std::abs(marks.whistles[0].first_s - 33.0) < 0.15);
}

TEST_CASE("a scan that goes on from where one was left finds what one in a piece finds") {
    FilmScan whole({film(), {}, {}});
    const FilmMarks all = waited_for(whole);
    FilmMarks part;
    part.until_s = 35.0;
    part.cuts_s = {10.0, 20.0, 30.0};
    part.whistles = {{33.0, 33.6}};
    FilmScan rest({film(), {}, part});
    const FilmMarks joined = waited_for(rest);
    CHECK(joined.whole);
    CHECK(joined.cuts_s.size() == all.cuts_s.size());
    CHECK(joined.whistles.size() == all.whistles.size());
    FilmScan nothing_left({film(), {}, all});
    CHECK_FALSE(waited_for(nothing_left).whole); // nothing new is told
}

TEST_CASE("a scan stops when it is let go of, and what is no film is one line") {
    { const FilmScan scan({film(), {}, {}}); }
    FilmScan scan({"/nowhere/game.mp4", {}, {}});
    waited_for(scan);
    CHECK(scan.finished());
    CHECK_FALSE(scan.error().empty());
    CHECK(scan.error().find('\n') == std::string::npos);
}
