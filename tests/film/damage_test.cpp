// Damaged and wrong files: what is there plays, what is not is named, and nothing takes long.
#include "film/film_error.h"
#include "film/film_index.h"
#include "film/film_reader.h"
#include "film/sound.h"

#include <doctest/doctest.h>

#include <array>
#include <chrono>
#include <cmath>
#include <fstream>
#include <limits>
#include <utility>

#include "film/truth.h"

using namespace ropeline;

namespace {

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

void write(const std::string& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

FilmFault fault_of(const std::string& path) {
    try {
        FilmReader film(path, {.threads = clips::decoder_threads});
    } catch (const FilmError& error) {
        CHECK(std::string(error.what()).find('\n') == std::string::npos);
        CHECK(std::string(error.what()).find(path) != std::string::npos);
        return error.fault;
    }
    FAIL("it opened: ", path);
    return FilmFault::not_film;
}

} // namespace

TEST_CASE("what is no film is one line with its own fault") {
    const clips::Folder folder;
    write(folder.file("empty.mp4"), "");
    write(folder.file("notes.txt"), "forecheck, backcheck, pay cheque\n");
    clips::ffmpeg("-f lavfi -i sine=d=1 -c:a aac " + clips::quoted(folder.file("sound.m4a")));
    clips::ffmpeg("-f lavfi -i testsrc2=s=64x48 -frames:v 1 " + clips::quoted(folder.file("still.png")));
    CHECK(fault_of(folder.file("nowhere.mp4")) == FilmFault::not_found);
    CHECK(fault_of(folder.path().string()) == FilmFault::is_directory);
    CHECK(fault_of(folder.file("empty.mp4")) == FilmFault::empty);
    CHECK(fault_of(folder.file("notes.txt")) == FilmFault::not_film);
    CHECK(fault_of(folder.file("sound.m4a")) == FilmFault::no_picture);
    CHECK(fault_of(folder.file("still.png")) == FilmFault::not_film);
    CHECK(fault_of("/dev/zero") == FilmFault::not_film);
}

// Each of them names itself as what it consists of.
TEST_CASE("a play list or manifest with a film's name is one line, and nothing it names is opened") {
    const clips::Folder folder;
    const std::array<std::pair<const char*, const char*>, 4> lists{{
        {"hls.mp4", "#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\nhls.mp4\n#EXT-X-ENDLIST\n"},
        {"dash.mp4",
         "<?xml version=\"1.0\"?>\n<MPD xmlns=\"urn:mpeg:dash:schema:mpd:2011\" type=\"static\" "
         "mediaPresentationDuration=\"PT1S\" profiles=\"urn:mpeg:dash:profile:isoff-on-demand:2011\">"
         "<Period><AdaptationSet contentType=\"video\"><Representation id=\"0\" mimeType=\"video/mp4\" "
         "bandwidth=\"1\" width=\"64\" height=\"48\"><BaseURL>dash.mp4</BaseURL></Representation>"
         "</AdaptationSet></Period></MPD>\n"},
        {"concat.mp4", "ffconcat version 1.0\nfile concat.mp4\n"},
        {"session.mp4", "v=0\no=- 0 0 IN IP4 127.0.0.1\ns=x\nc=IN IP4 127.0.0.1\nt=0 0\nm=video 5004 RTP/AVP "
                        "96\na=rtpmap:96 H264/90000\n"},
    }};
    for (const auto& [name, text] : lists) {
        CAPTURE(std::string(name));
        write(folder.file(name), text);
        CHECK(fault_of(folder.file(name)) == FilmFault::not_film);
        CHECK_THROWS_AS(FilmSound(folder.file(name)), FilmError);
    }
}

TEST_CASE("a file name with a line break stays in one line") {
    CHECK(std::string(FilmError(FilmFault::not_film, "a\nb\t\x7f.mp4 is not a film").what()) ==
          "a\\nb\\x09\\x7f.mp4 is not a film");
    const clips::Folder folder;
    try {
        FilmReader film(folder.file("goal\nof the year.mp4"));
        FAIL("it opened");
    } catch (const FilmError& error) {
        CHECK(std::string(error.what()).find("goal\\nof the year.mp4") != std::string::npos);
        CHECK(std::string(error.what()).find('\n') == std::string::npos);
    }
}

TEST_CASE("time goes on from frame to frame whatever the time stamps say") {
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max(),
                           least = std::numeric_limits<std::int64_t>::min() + 1;
    const FrameTable frames({{0}, {most}, {least}, {least + 40}, {most - 40}, {least}, {most}}, {1, 1000});
    for (std::int64_t i = 1; i < frames.count(); ++i)
        CHECK(frames.seconds_of(FrameIndex{i}) >= frames.seconds_of(FrameIndex{i - 1}));
    CHECK(frames.shown_at(1e300) == FrameIndex{6});

    FilmIndex index;
    index.time_base = {1, 1000};
    for (const std::int64_t ticks : {std::int64_t{0}, most, least, most - 1, least + 1, std::int64_t{40}}) {
        index.packets.push_back({.pts = believed(ticks), .dts = believed(ticks), .key = true, .entry = true});
    }
    arrange(index, 40);
    REQUIRE(index.frames() == 6);
    for (std::size_t i = 1; i < index.pts.size(); ++i)
        CHECK(index.pts[i].ticks > index.pts[i - 1].ticks);
}

// A fragment's time in MP4 is a number of 64 bits (ISO/IEC 14496-12, 8.8.12, "tfdt"): here each is overwritten.
TEST_CASE("a film whose time stamps lie at the ends of the numbers ends in pictures or in one line") {
    const clips::Folder folder;
    const std::string path = folder.file("hostile.mp4");
    clips::ffmpeg("-f lavfi -i testsrc2=s=64x48:r=25:d=2 -c:v libx264 -bf 0 -g 5 -movflags "
                  "frag_keyframe+empty_moov " +
                  clips::quoted(path));
    std::string bytes = bytes_of(path);
    int changed = 0;
    for (auto at = bytes.find("tfdt"); at != std::string::npos; at = bytes.find("tfdt", at + 4)) {
        REQUIRE(bytes[at + 4] == 1); // the version with 64 bits
        bytes.replace(at + 8, 8,
                      changed++ % 2 == 0 ? std::string("\x7f\xff\xff\xff\xff\xff\x00\x00", 8)
                                         : std::string("\x80\x00\x00\x00\x00\x01\x00\x00", 8));
    }
    REQUIRE(changed >= 4);
    write(path, bytes);
    try {
        FilmReader film(path, {.threads = clips::decoder_threads});
        for (std::int64_t i = 0; i < film.frames().count(); ++i) {
            CHECK(std::isfinite(film.frames().seconds_of(FrameIndex{i})));
            try {
                film.picture(FrameIndex{i});
            } catch (const FilmError& error) {
                CHECK(error.fault == FilmFault::damaged);
            }
        }
        static_cast<void>(film.holes());
    } catch (const FilmError& error) {
        CHECK(error.fault == FilmFault::damaged);
    }
}

TEST_CASE("a film cut at its end plays what is there and says what is not") {
    const clips::Folder folder;
    const std::string whole = folder.file("whole.mp4"), cut = folder.file("cut.mp4");
    clips::ffmpeg("-f lavfi -i testsrc2=s=128x72:r=25:d=6 -c:v libx264 -bf 2 -g 50 -movflags faststart " +
                  clips::quoted(whole));
    const std::string bytes = bytes_of(whole);
    write(cut, bytes.substr(0, bytes.size() * 6 / 10));
    const auto truth = clips::truth_of(cut);
    FilmReader film(cut, {.threads = clips::decoder_threads});
    REQUIRE(film.facts().warnings.size() >= 1);
    CHECK(film.facts().warnings[0].find("the film is cut off: ") == 0);
    REQUIRE_FALSE(film.holes().empty());
    CHECK(film.holes().back().lost_frames > 30);
    for (std::size_t i = 0; i < truth.size(); ++i)
        CHECK(film.picture(FrameIndex{static_cast<std::int64_t>(i)})->md5() == truth[i].md5);
}

TEST_CASE("a transport stream cut at its head begins with the first picture that can be shown") {
    const clips::Folder folder;
    const std::string whole = folder.file("whole.ts"), cut = folder.file("cut.ts");
    clips::ffmpeg("-f lavfi -i testsrc2=s=128x72:r=25:d=3 -c:v libx264 -x264-params "
                  "open-gop=1:bframes=3:b-adapt=0:keyint=20 " +
                  clips::quoted(whole));
    const std::string bytes = bytes_of(whole);
    write(cut, bytes.substr(188 * (bytes.size() / 188 / 3)));
    const auto truth = clips::truth_of(cut);
    FilmReader film(cut, {.threads = clips::decoder_threads});
    REQUIRE(film.frames().count() == static_cast<std::int64_t>(truth.size()));
    for (std::size_t i = truth.size(); i-- > 0;)
        CHECK(film.picture(FrameIndex{static_cast<std::int64_t>(i)})->md5() == truth[i].md5);
}

TEST_CASE("packets lost in the middle are a hole with its place and its length") {
    const clips::Folder folder;
    const std::string whole = folder.file("whole.ts"), torn = folder.file("torn.ts");
    clips::ffmpeg("-f lavfi -i testsrc2=s=128x72:r=25:d=8 -c:v libx264 -g 25 -bf 0 " + clips::quoted(whole));
    const auto frames = clips::truth_of(whole);
    const std::string bytes = bytes_of(whole);
    const std::size_t packets = bytes.size() / 188;
    write(torn, bytes.substr(0, 188 * (packets / 3)) + bytes.substr(188 * (packets / 2)));
    FilmReader film(torn, {.threads = clips::decoder_threads});
    const auto holes = film.holes();
    REQUIRE(holes.size() >= 1);
    std::int64_t lost = 0;
    for (const FilmHole& hole : holes)
        lost += hole.lost_frames;
    CHECK(film.frames().count() + lost == static_cast<std::int64_t>(frames.size()));
    int shown = 0;
    for (std::int64_t i = 0; i < film.frames().count(); ++i) {
        try {
            film.picture(FrameIndex{i});
            ++shown;
        } catch (const FilmError& error) {
            CHECK(error.fault == FilmFault::damaged);
        }
    }
    CHECK(shown > film.frames().count() * 8 / 10);
}

TEST_CASE("a kept index of another film, or damaged, is not believed") {
    const clips::Folder folder;
    const std::string one = folder.file("one.mp4"), two = folder.file("two.mp4");
    clips::ffmpeg("-f lavfi -i testsrc2=s=64x48:r=25:d=2 -c:v libx264 " + clips::quoted(one));
    clips::ffmpeg("-f lavfi -i testsrc2=s=64x48:r=25:d=3 -c:v libx264 " + clips::quoted(two));
    std::vector<std::byte> kept = FilmReader(one).index_to_keep();
    CHECK(FilmReader(two, {.kept_index = kept}).frames().count() == 75);
    kept.resize(kept.size() / 2);
    CHECK(FilmReader(one, {.kept_index = kept}).frames().count() == 50);
}
