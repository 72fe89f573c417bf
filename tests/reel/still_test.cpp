#include "reel/still.h"

#include "film/clips.h"
#include "film/film_reader.h"
#include "film/rgb.h"
#include "reel/filmed_season.h"

#include <doctest/doctest.h>

#include <fstream>

namespace ropeline {
namespace {

using test::FilmedSeason;

/// The PNG as ffmpeg opens it.
RgbPicture opened(const sample::Folder& folder, const std::string& png, int width_px) {
    const std::string name = (folder / "still.png").string(), raw = (folder / "still.rgb").string();
    std::ofstream(name, std::ios::binary) << png;
    clips::ffmpeg("-i " + clips::quoted(name) + " -f rawvideo -pix_fmt rgb24 " + clips::quoted(raw));
    std::ifstream in(raw, std::ios::binary);
    RgbPicture picture{width_px, 0, {std::istreambuf_iterator<char>(in), {}}};
    picture.height_px = static_cast<int>(picture.bytes.size()) / 3 / width_px;
    return picture;
}

std::array<int, 3> pixel(const RgbPicture& rgb, ImagePoint at) {
    const auto x = static_cast<std::size_t>(at.x_px), y = static_cast<std::size_t>(at.y_px);
    const std::uint8_t* from = &rgb.bytes[(y * static_cast<std::size_t>(rgb.width_px) + x) * 3];
    return {from[0], from[1], from[2]};
}

} // namespace

TEST_CASE("a still is the moment's own frame with what is drawn in place, at any width") {
    const FilmedSeason filmed;
    const ShownPlay play = filmed.play();
    REQUIRE(main_moment(play) != nullptr);
    CHECK(main_moment(play)->moment.frame == test::release_frame);
    const auto still = [&](const StillOptions& options) {
        const std::string png = still_of(play, *main_moment(play), StillKind::png, options);
        return opened(filmed.folder, png, options.width_px > 0 ? options.width_px : 640);
    };
    const RgbPicture bare = still({.overlay = false, .words = false});
    CHECK(bare.height_px == 360);
    // Grey 136 in video range is (136 - 16) * 255 / 219 = 140.
    CHECK(std::abs(pixel(bare, {20.0, 20.0})[0] - 140) <= 2);
    for (const double scale : {1.0, 2.0}) {
        const RgbPicture drawn = still({.words = false, .width_px = static_cast<int>(640 * scale)});
        const double post = rule_book(RuleBookId::iihf).post_half_gap.m;
        const ImagePoint at =
            test::camera_sees(IcePoint{post, 0.0} + (IcePoint{3.5, 5.0} - IcePoint{post, 0.0}) * 0.7);
        const auto rope = pixel(drawn, {at.x_px * scale, at.y_px * scale});
        CHECK(rope[0] - rope[2] > 60);
    }
}

namespace {

/// What this process has read so far, from files and pipes. Source: proc(5), /proc/PID/io, rchar.
std::int64_t bytes_read() {
    std::ifstream io("/proc/self/io");
    std::string name;
    std::int64_t bytes = 0;
    io >> name >> bytes;
    REQUIRE(name == "rchar:");
    return bytes;
}

} // namespace

TEST_CASE("a still of a film whose index the season keeps goes there, and does not read the film through") {
    const FilmedSeason filmed;
    const std::string path = (filmed.folder / "long.mp4").string();
    clips::ffmpeg(
        "-f lavfi -i testsrc2=s=320x180:r=30:d=40,noise=alls=20:allf=t -c:v libx264 -preset ultrafast "
        "-g 30 -pix_fmt yuv420p " +
        clips::quoted(path));
    ShownPlay play = filmed.play();
    play.film_path = path;
    ShownMoment late = *main_moment(play);
    late.moment.frame = 1000;
    const auto still = [&] {
        const std::int64_t before = bytes_read();
        std::string png = still_of(play, late, StillKind::png, {.overlay = false, .words = false});
        return std::pair{std::move(png), bytes_read() - before};
    };
    const auto file_bytes = static_cast<std::int64_t>(std::filesystem::file_size(path));
    const auto [through, all] = still();
    CHECK(all > file_bytes);
    KnownFilm known;
    known.index = FilmReader(path).index_to_keep();
    play.known = std::make_shared<const KnownFilm>(known);
    const auto [there, little] = still();
    CHECK((there == through));
    MESSAGE("read " << little << " of " << file_bytes << " bytes");
    CHECK(little < file_bytes / 5);
}

TEST_CASE("words and puck's eye leave the goalie free who stands low in the picture") {
    const FilmedSeason filmed;
    const ShownPlay play = filmed.play();
    const auto still = [&](bool words) {
        return opened(
            filmed.folder,
            still_of(play, play.moments.front(), StillKind::png, {.overlay = false, .words = words}), 640);
    };
    const RgbPicture bare = still(false), with_words = still(true);
    CHECK(bare.bytes != with_words.bytes);
    const ImagePoint skates = test::camera_sees({-0.6, 1.9}); // of 360 rows in 316
    for (const double up_px : {0.0, 20.0, 40.0, 60.0}) {      // a metre is 38 pixels there
        for (const double aside_px : {-15.0, 0.0, 15.0}) {
            CAPTURE(up_px);
            CAPTURE(aside_px);
            const ImagePoint at{skates.x_px + aside_px, skates.y_px - up_px};
            CHECK(pixel(with_words, at) == pixel(bare, at));
        }
    }
}

TEST_CASE("a still as PNG opens elsewhere; as SVG it says in words what it shows, and any text is text") {
    const FilmedSeason filmed({.note = "<script>alert(1)</script> & \"; rm -rf"});
    const ShownPlay play = filmed.play();
    const std::string png = still_of(play, *main_moment(play), StillKind::png);
    std::ofstream(filmed.folder / "still.png", std::ios::binary) << png;
    CHECK(clips::output_of("ffprobe -v error -show_entries stream=codec_name,width,height -of csv=p=0 " +
                           clips::quoted((filmed.folder / "still.png").string())) == "png,640,360\n");
    const std::string svg = still_of(play, *main_moment(play), StillKind::svg);
    CHECK(svg.starts_with("<?xml"));
    CHECK(svg.find("<title>P2 12:35 · rush · at the release</title>") != std::string::npos);
    CHECK(svg.find("<script") == std::string::npos);
    CHECK(svg.find("data:image/png;base64,") != std::string::npos);
    CHECK(svg.find(filmed.folder.path.string()) == std::string::npos);
    CHECK(svg.ends_with("</svg>\n"));
}

TEST_CASE("the reviewer's word stands before the model's") {
    const FilmedSeason filmed;
    {
        SeasonFile file = SeasonFile::open(filmed.season());
        Moment release = file.moments(filmed.shot).at(1);
        release.overruled = Verdict::right_depth;
        release.overrule_reason = "he had to honour the rebound";
        file.put(release);
    }
    CHECK(main_moment(filmed.play())->headline == "Coach: right depth: he had to honour the rebound");
}

} // namespace ropeline
