// Reels as they lie on disk. Truth: ffprobe and ffmpeg's own decoder; the film's shade of grey says which frame it is.
#include "reel/reel.h"

#include "film/clips.h"
#include "film/film_error.h"
#include "film/film_reader.h"
#include "film/rgb.h"
#include "reel/filmed_season.h"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <cstring>
#include <fstream>
#include <set>

namespace ropeline {
namespace {

using test::FilmedSeason;

ReelOptions plain() {
    ReelOptions options;
    options.timing = {.run_up_s = 0.4, .freeze_s = 0.5, .after_s = 0.3, .speed_on = 0.5, .card_s = 0.0};
    options.preset = "ultrafast";
    options.crf = 8;
    return options;
}

nlohmann::json probed(const std::string& path) {
    return nlohmann::json::parse(clips::output_of(
        "ffprobe -v error -of json -show_streams -show_chapters -show_format -show_packets -show_entries "
        "packet=stream_index,pts,duration " +
        clips::quoted(path)));
}

std::vector<std::int64_t> picture_times(const nlohmann::json& of) {
    std::vector<std::int64_t> times;
    for (const auto& packet : of["packets"])
        if (packet["stream_index"] == 0) times.push_back(packet["pts"]);
    std::ranges::sort(times);
    return times;
}

std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// The grey in the middle of the picture's left edge, where nothing is drawn.
int grey_at_edge(FilmReader& film, std::int64_t frame) {
    const PicturePtr picture = film.picture(FrameIndex{frame});
    const auto& plane = picture->planes()[0];
    return plane.bytes[static_cast<std::ptrdiff_t>(plane.height / 2) * plane.stride_bytes + 2];
}

std::set<std::string> names_in(const std::filesystem::path& folder) {
    std::set<std::string> names;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        names.insert(entry.path().filename().string());
    return names;
}

} // namespace

TEST_CASE("a reel is H.264 and AAC, 4:2:0, the index in front, and decodes without a word of warning") {
    const FilmedSeason filmed;
    const std::string path = (filmed.folder / "reel.mp4").string();
    ReelOptions options = plain();
    options.timing.card_s = 0.5;
    options.title = "Winter";
    options.preset = "veryfast"; // the usual one
    CHECK(make_reel({filmed.play()}, path, options) == ReelEnd::made);
    const auto about = probed(path);
    CHECK(about["streams"][0]["codec_name"] == "h264");
    CHECK(about["streams"][0]["pix_fmt"] == "yuv420p");
    CHECK(about["streams"][0]["profile"] == "High");
    CHECK(about["streams"][0]["color_space"] == "bt709");
    CHECK(about["streams"][1]["codec_name"] == "aac");
    CHECK(about["streams"][1]["sample_rate"] == "48000");
    const std::string bytes = bytes_of(path);
    CHECK(bytes.find("moov") < bytes.find("mdat"));
    CHECK(clips::output_of("ffmpeg -nostdin -v warning -xerror -i " + clips::quoted(path) +
                           " -map 0:v -map 0:a -f null - 2>&1")
              .empty());
    const double sound_s = std::stod(about["streams"][1]["duration"].get<std::string>());
    const double pictures_s =
        static_cast<double>(picture_times(about).back() + 6006) / 90000.0; // the last lasts so long
    CHECK(std::abs(sound_s - pictures_s) < 0.03);
}

TEST_CASE("each picture of a reel is the film's own frame, at its exact time, also at half speed") {
    const FilmedSeason filmed;
    const std::string path = (filmed.folder / "reel.mp4").string();
    make_reel({filmed.play()}, path, plain());
    std::vector<std::int64_t> times, frames; // by hand: a frame lasts 3003 ticks of 1/90000 s
    std::int64_t at = 0;
    const auto show = [&](std::int64_t frame, std::int64_t ticks) {
        times.push_back(at);
        frames.push_back(frame);
        at += ticks;
    };
    for (std::int64_t frame = 18; frame < 30;
         ++frame) // 0.4 s back from frame 30, at 1.001 s: frame 18 begins at 0.6006 s
        show(frame, 3003);
    for (int still = 0; still < 14; ++still) // 0.5 s hold 14 whole frames
        show(30, 3003);
    for (std::int64_t frame = 30; frame < 48; ++frame)
        show(frame, 6006);
    for (int still = 0; still < 14; ++still)
        show(48, 3003);
    for (std::int64_t frame = 48; frame <= 56; ++frame) // 0.3 s on from 1.6016 s: 1.9016 s lies in frame 56
        show(frame, 6006);
    CHECK(picture_times(probed(path)) == times);
    FilmReader reel(path);
    REQUIRE(reel.frames().count() == static_cast<std::int64_t>(frames.size()));
    for (std::size_t index = 0; index < frames.size(); ++index) {
        CAPTURE(index);
        CHECK(std::abs(grey_at_edge(reel, static_cast<std::int64_t>(index)) - test::grey_of(frames[index])) <=
              1);
    }
}

TEST_CASE("at a freeze the ropes, the receiver and the posts lie where the camera sees them on the ice") {
    const FilmedSeason filmed;
    const std::string path = (filmed.folder / "reel.mp4").string();
    ReelOptions options = plain();
    options.words = false;
    make_reel({filmed.play()}, path, options);
    FilmReader reel(path);
    const RgbPicture freeze = rgb_of(*reel.picture(FrameIndex{20}), reel.facts());
    const RgbPicture running = rgb_of(*reel.picture(FrameIndex{5}), reel.facts());
    const auto pixel = [](const RgbPicture& rgb, ImagePoint at) {
        const auto x = static_cast<std::size_t>(at.x_px), y = static_cast<std::size_t>(at.y_px);
        const std::uint8_t* from = &rgb.bytes[(y * static_cast<std::size_t>(rgb.width_px) + x) * 3];
        return std::array<int, 3>{from[0], from[1], from[2]};
    };
    const double post = rule_book(RuleBookId::iihf).post_half_gap.m;
    const IcePoint puck{-4.0, 8.0};
    for (const double share : {0.45, 0.62, 0.8}) { // ropes are yellow: much more red than blue
        for (const double x : {-post, post}) {
            CAPTURE(share);
            CAPTURE(x);
            const IcePoint on_rope = IcePoint{x, 0.0} + (puck - IcePoint{x, 0.0}) * share;
            const auto drawn = pixel(freeze, test::camera_sees(on_rope));
            CHECK(drawn[0] - drawn[2] > 60);
            const auto bare = pixel(running, test::camera_sees(on_rope));
            CHECK(std::abs(bare[0] - bare[2]) < 8);
        }
    }
    const ImagePoint receiver =
        test::camera_sees({3.5, 5.0}); // a square 9 thousandths of the height to each side
    const auto edge = pixel(freeze, {receiver.x_px + 0.009 * 360.0, receiver.y_px});
    CHECK(edge[0] > 130); // the square's light side, a pixel wide, on the film's grey of 98
    const auto clear = pixel(freeze, {40.0, 40.0});
    CHECK(std::abs(clear[0] - clear[2]) < 8);
}

TEST_CASE("a reel that is stopped leaves nothing behind, and an older one as it was") {
    const FilmedSeason filmed;
    const auto before = names_in(filmed.folder.path);
    const std::string path = (filmed.folder / "reel.mp4").string();
    CHECK(make_reel({filmed.play()}, path, plain(), [](double share, double) { return share < 0.5; }) ==
          ReelEnd::stopped);
    CHECK(names_in(filmed.folder.path) == before);
    std::ofstream(path) << "an older reel";
    CHECK(make_reel({filmed.play()}, path, plain(), [](double, double) { return false; }) ==
          ReelEnd::stopped);
    CHECK(bytes_of(path) == "an older reel");
}

TEST_CASE("progress grows to 1 and says how long the rest will take") {
    const FilmedSeason filmed;
    double last = 0.0;
    make_reel({filmed.play()}, (filmed.folder / "reel.mp4").string(), plain(),
              [&](double share, double seconds_left) {
                  CHECK(share > last);
                  CHECK(seconds_left >= 0.0);
                  last = share;
                  return true;
              });
    CHECK(last == 1.0);
}

TEST_CASE(
    "names and notes of any kind come out whole in chapters and captions, and no path of this machine does") {
    const std::string long_name(500, 'n');
    const FilmedSeason filmed(
        {.season = "<img src=x onerror=alert(1)>", .home = long_name, .note = "a --> b\n\n<b>\"; rm -rf"});
    const std::string path = (filmed.folder / "reel.mp4").string();
    ReelOptions options = plain();
    options.title = long_name + "; x=y\\ #";
    options.timing.card_s = 0.2;
    make_reel({filmed.play(), filmed.play()}, path, options);
    const auto about = probed(path);
    CHECK(about["format"]["tags"]["title"] == options.title);
    REQUIRE(about["chapters"].size() == 2);
    CHECK(about["chapters"][0]["tags"]["title"] == "1. P2 12:35 · rush");
    CHECK(about["chapters"][0]["start"] == 0);
    const std::string words = bytes_of(filmed.folder / "reel.vtt");
    CHECK(words.starts_with("WEBVTT\n"));
    CHECK(words.find("a --&gt; b  &lt;b&gt;\"; rm -rf\n") != std::string::npos);
    CHECK(bytes_of(path).find(filmed.folder.path.string()) == std::string::npos);
    CHECK(words.find(filmed.folder.path.string()) == std::string::npos);
}

TEST_CASE("two shots beside each other are each in their half, at the moment each is about") {
    const FilmedSeason filmed;
    const std::string path = (filmed.folder / "reel.mp4").string();
    ReelOptions options = plain();
    options.beside = true;
    options.draw = false;
    ShownPlay other = filmed.play(); // the same film, but the play is about another frame
    other.moments[1].moment.frame = 60;
    make_reel({filmed.play(), other}, path, options);
    FilmReader reel(path);
    const PicturePtr picture = reel.picture(FrameIndex{14}); // 12 frames of run-up, then the freeze
    const auto& luma = picture->planes()[0];
    const auto grey = [&](int x) {
        return int{luma.bytes[static_cast<std::ptrdiff_t>(180) * luma.stride_bytes + x]};
    };
    CHECK(std::abs(grey(160) - test::grey_of(test::release_frame)) <= 2);
    CHECK(std::abs(grey(480) - test::grey_of(60)) <= 2);
}

TEST_CASE("two shots beside each other stand still together, each with its own words, and go on together") {
    const FilmedSeason filmed;
    const std::string path = (filmed.folder / "reel.mp4").string(),
                      bare = (filmed.folder / "bare.mp4").string();
    ReelOptions options = plain();
    options.beside = true;
    ShownPlay other = filmed.play();
    other.moments[1].moment.frame = 60;
    other.shot.note = "the other one";
    make_reel({filmed.play(), other}, path, options);
    options.draw = false;
    make_reel({filmed.play(), other}, bare, options);
    FilmReader reel(path), plain_reel(bare);
    const auto rows = [](const PicturePtr& picture, int from_x) {
        const auto& luma = picture->planes()[0];
        std::string bytes;
        for (int row = 0; row < luma.height; ++row)
            for (int x = from_x; x < from_x + 320; ++x)
                bytes += static_cast<char>(
                    luma.bytes[static_cast<std::ptrdiff_t>(row) * luma.stride_bytes + x] / 16);
        return bytes;
    };
    // 12 frames of run-up, 14 of the freeze (half a second of 3003 ticks each): by hand, as above.
    constexpr std::int64_t first_still = 12, last_still = 25;
    for (const int left_edge : {0, 320}) {
        CAPTURE(left_edge);
        const std::string drawn = rows(reel.picture(FrameIndex{first_still}), left_edge);
        CHECK((drawn != rows(plain_reel.picture(FrameIndex{first_still}), left_edge)));
        const auto grey = [&](std::int64_t frame) {
            const PicturePtr picture = plain_reel.picture(FrameIndex{frame});
            const auto& luma = picture->planes()[0];
            return int{luma.bytes[static_cast<std::ptrdiff_t>(180) * luma.stride_bytes + left_edge + 160]};
        };
        CHECK(std::abs(grey(first_still) - grey(last_still)) <= 1);
        CHECK(grey(first_still) - grey(first_still - 4) >= 6); // two shades a frame
        CHECK(grey(last_still + 5) - grey(last_still) >= 6);
    }
    const std::string words = bytes_of(filmed.folder / "reel.vtt");
    const std::size_t left = words.find("Left: P2 12:35"), right = words.find("Right: P2 12:35");
    REQUIRE(left != std::string::npos);
    REQUIRE(right != std::string::npos);
    CHECK(words.substr(left, right - left).find("late to the pass") != std::string::npos);
    CHECK(words.substr(right).find("the other one") != std::string::npos);
}

namespace {

/// How loud the reel's left channel is from one time to another, as ffmpeg decodes it: the root of the mean square.
double loudness(const sample::Folder& folder, const std::string& reel, double from_s, double until_s) {
    const std::string raw = (folder / "sound.raw").string();
    clips::ffmpeg("-i " + clips::quoted(reel) + " -map 0:a -f f32le -ac 1 -ar 48000 " + clips::quoted(raw));
    const std::string bytes = bytes_of(raw);
    std::vector<float> samples(bytes.size() / sizeof(float));
    std::memcpy(samples.data(), bytes.data(), samples.size() * sizeof(float));
    double sum = 0.0;
    const auto first = static_cast<std::size_t>(48000 * from_s),
               last = static_cast<std::size_t>(48000 * until_s);
    REQUIRE(last <= samples.size());
    for (std::size_t i = first; i < last; ++i)
        sum += static_cast<double>(samples[i]) * samples[i];
    return std::sqrt(sum / static_cast<double>(last - first));
}

} // namespace

TEST_CASE("a voice lies over the reel from its beginning to its own end, and the film is low under it") {
    const FilmedSeason filmed;
    const std::string path = (filmed.folder / "reel.mp4").string(),
                      voice = (filmed.folder / "voice.wav").string(),
                      hush = (filmed.folder / "hush.wav").string();
    clips::ffmpeg("-f lavfi -i sine=1000:d=0.6:sample_rate=48000 -ac 1 " + clips::quoted(voice));
    clips::ffmpeg("-f lavfi -i anullsrc=r=48000:cl=mono -t 0.6 " + clips::quoted(hush));
    ReelOptions options = plain(); // 0.4 s of run-up, then the film stands for half a second
    options.sound = false;
    options.voice = voice;
    make_reel({filmed.play()}, path, options);
    const double spoken = loudness(filmed.folder, path, 0.05, 0.55);
    CHECK(spoken ==
          doctest::Approx(0.125 / std::sqrt(2.0)).epsilon(0.1)); // ffmpeg's sine has an eighth of full
    CHECK(loudness(filmed.folder, path, 0.65, 0.85) < 0.01);
    options = plain();
    make_reel({filmed.play()}, path, options);
    const double alone = loudness(filmed.folder, path, 0.05, 0.35);
    options.voice = hush;
    make_reel({filmed.play()}, path, options);
    CHECK(loudness(filmed.folder, path, 0.05, 0.35) == doctest::Approx(alone / 4.0).epsilon(0.15));
    options.voice = (filmed.folder / "gone.wav").string();
    CHECK_THROWS_AS(make_reel({filmed.play()}, path, options), FilmError);
}

TEST_CASE("shots whose film is not there are named and left out; with none left there is one line") {
    const FilmedSeason filmed;
    std::vector<ShownPlay> plays{filmed.play(), filmed.play()};
    plays[1].film_path = filmed.folder / "gone.mp4";
    const auto said = without_film(plays);
    CHECK(plays.size() == 1);
    REQUIRE(said.size() == 1);
    CHECK(said[0].find("is not there") != std::string::npos);
    CHECK(said[0].find(filmed.folder.path.string()) == std::string::npos);
    CHECK_THROWS_AS(make_reel({}, (filmed.folder / "reel.mp4").string(), plain()), ReelError);
}

} // namespace ropeline
