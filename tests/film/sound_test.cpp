#include "film/sound.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "film/clips.h"
#include "film/film_error.h"
#include "film/film_reader.h"

using namespace ropeline;

// A beep that begins at a known time: sound gone to from anywhere must have it there, to a hundredth of a
// second.
TEST_CASE("sound lies where the film has it, from any place, also where the film starts late") {
    const clips::Folder folder;
    for (const char* name : {"aac.mp4", "pcm.mov", "mp2.ts", "late.mkv"}) {
        CAPTURE(std::string(name));
        const std::string path = folder.file(name);
        const std::string codec = std::string(name) == "pcm.mov"  ? "pcm_s16le"
                                  : std::string(name) == "mp2.ts" ? "mp2"
                                                                  : "aac";
        clips::ffmpeg("-f lavfi -i testsrc2=s=64x48:r=25:d=6 -f lavfi -i "
                      "\"aevalsrc='if(between(t,3,3.5),sin(2*PI*880*t),0)':s=44100:d=6\" "
                      "-c:v libx264 -preset ultrafast -c:a " +
                      codec + (std::string(name) == "late.mkv" ? " -output_ts_offset 5 " : " ") +
                      clips::quoted(path));
        const FilmReader film(path, {.threads = clips::decoder_threads});
        const double start =
            film.frames().seconds_of(FrameIndex{0}); // the picture and the sound begin together
        FilmSound sound(path);
        for (const double from : {0.0, 1.0, 2.9, 2.0}) {
            CAPTURE(from);
            sound.go_to(start + from);
            std::vector<float> samples(static_cast<std::size_t>(FilmSound::rate_hz) * 2 *
                                       FilmSound::channels);
            REQUIRE(sound.read(samples) == samples.size() / 2);
            std::size_t first = 0;
            while (first < samples.size() && std::abs(samples[first]) < 0.2f)
                ++first;
            const double heard = from + static_cast<double>(first / 2) / FilmSound::rate_hz;
            if (from >= 1.0) CHECK(std::abs(heard - 3.0) < 0.012);
            if (from < 1.0) CHECK(first == samples.size()); // silence until then
            CHECK(sound.next_seconds() == doctest::Approx(start + from + 2.0).epsilon(1e-9));
        }
        sound.go_to(start + 5.9);
        std::vector<float> rest(96000);
        CHECK(sound.read(rest) < 48000);
    }
}

// The beep lies beyond a stretch whose sound is missing or damaged: it stays where the film has it.
TEST_CASE("sound that is missing or damaged on the way does not bring forward what comes after it") {
    const clips::Folder folder;
    for (const char* how : {"drop='between(pts*tb,2,5)'", "amount='if(between(pts*tb,2,5),3,0)'"}) {
        CAPTURE(std::string(how));
        for (const char* name : {"aac.mp4", "pcm.mkv", "mp2.ts"}) {
            CAPTURE(std::string(name));
            const std::string path = folder.file(name);
            const std::string codec = std::string(name) == "pcm.mkv"  ? "pcm_s16le"
                                      : std::string(name) == "mp2.ts" ? "mp2"
                                                                      : "aac";
            clips::ffmpeg("-y -f lavfi -i testsrc2=s=64x48:r=25:d=10 -f lavfi -i "
                          "\"aevalsrc='if(between(t,8,8.5),sin(2*PI*880*t),0)':s=48000:d=10\" "
                          "-c:v libx264 -preset ultrafast -c:a " +
                          codec + " -bsf:a \"noise=" + how + "\" " + clips::quoted(path));
            FilmSound sound(path);
            const double start =
                FilmReader(path, {.threads = clips::decoder_threads}).frames().seconds_of(FrameIndex{0});
            sound.go_to(start + 0.5);
            std::vector<float> samples(static_cast<std::size_t>(FilmSound::rate_hz) * 9 *
                                       FilmSound::channels);
            const std::size_t moments = sound.read(samples);
            std::size_t first = static_cast<std::size_t>(6.0 * FilmSound::rate_hz);
            while (first < moments && std::abs(samples[FilmSound::channels * first]) < 0.2f)
                ++first;
            CHECK(std::abs(0.5 + static_cast<double>(first) / FilmSound::rate_hz - 8.0) < 0.05);
        }
    }
}

TEST_CASE("a film without sound says so") {
    const clips::Folder folder;
    const std::string path = folder.file("mute.mp4");
    clips::ffmpeg("-f lavfi -i testsrc2=s=64x48:r=25:d=1 -c:v libx264 " + clips::quoted(path));
    CHECK_THROWS_WITH_AS(FilmSound{path}, doctest::Contains("has no sound that can be played"), FilmError);
}

TEST_CASE("sound that changes from stereo to mono on the way goes on") {
    const clips::Folder folder;
    const std::string one = folder.file("one.ts"), two = folder.file("two.ts"), both = folder.file("both.ts");
    clips::ffmpeg(
        "-f lavfi -i testsrc2=s=64x48:r=25:d=2 -f lavfi -i sine=d=2 -ac 2 -c:v mpeg2video -c:a mp2 " +
        clips::quoted(one));
    clips::ffmpeg(
        "-f lavfi -i testsrc2=s=64x48:r=25:d=2 -f lavfi -i sine=d=2 -ac 1 -c:v mpeg2video -c:a mp2 " +
        clips::quoted(two));
    clips::output_of("cat " + one + " " + two + " > " + both);
    FilmSound sound(both);
    std::vector<float> samples(static_cast<std::size_t>(FilmSound::rate_hz) * 2 * 3);
    CHECK(sound.read(samples) == samples.size() / 2);
}
