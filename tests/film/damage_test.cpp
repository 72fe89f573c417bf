// Damaged and wrong files: what is there plays, what is not is named, and nothing takes long.
#include "film/film.h"

#include <doctest/doctest.h>

#include <chrono>
#include <fstream>

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
