#include "film/film_error.h"
#include "film/film_writer.h"

#include <doctest/doctest.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <sys/resource.h>
#include <vector>

#include "film/clips.h"

using namespace ropeline;
namespace fs = std::filesystem;

namespace {

std::vector<std::uint8_t> picture(int width, int height, int step) {
    std::vector<std::uint8_t> rgb(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
    for (std::size_t i = 0; i < rgb.size(); ++i)
        rgb[i] = static_cast<std::uint8_t>(i / 97 + static_cast<std::size_t>(step) * 5);
    return rgb;
}

void write(const std::string& path, const FilmWriterOptions& options, int count) {
    FilmWriter writer(path, options);
    for (int i = 0; i < count; ++i)
        writer.add(picture(options.width_px, options.height_px, i));
    writer.finish();
}

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

std::size_t files_in(const fs::path& folder) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator{}));
}

} // namespace

TEST_CASE("a written film has its frames, its rate and its colour tags, as ffprobe reads them") {
    const clips::Folder folder;
    const std::string path = folder.file("out.mp4");
    write(path, {.width_px = 320, .height_px = 180, .rate_numerator = 30000, .rate_denominator = 1001}, 31);
    const std::string said =
        clips::output_of("ffprobe -v error -count_frames -select_streams v:0 -show_entries "
                         "stream=codec_name,width,height,pix_fmt,color_space,color_transfer,color_primaries,"
                         "color_range,avg_frame_rate,"
                         "nb_read_frames -of csv=p=0 " +
                         clips::quoted(path));
    CHECK(said == "h264,320,180,yuv420p,tv,bt709,bt709,bt709,30000/1001,31\n");
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("the same pictures give the same bytes") {
    const clips::Folder folder;
    write(folder.file("a.mp4"), {.width_px = 160, .height_px = 96}, 40);
    write(folder.file("b.mp4"), {.width_px = 160, .height_px = 96}, 40);
    CHECK(bytes_of(folder.file("a.mp4")) == bytes_of(folder.file("b.mp4")));
}

TEST_CASE("colours come back within what 4:2:0 and eight bits cost") {
    const clips::Folder folder;
    const std::string path = folder.file("colour.mp4");
    const FilmWriterOptions options{.width_px = 64, .height_px = 64, .crf = 1};
    std::vector<std::uint8_t> rgb;
    for (int i = 0; i < 64 * 64; ++i)
        rgb.insert(rgb.end(), {200, 40, 90});
    FilmWriter writer(path, options);
    writer.add(rgb);
    writer.finish();
    const std::string back =
        clips::output_of("ffmpeg -v error -i " + clips::quoted(path) +
                         " -vf scale=in_color_matrix=bt709 -f rawvideo -pix_fmt rgb24 -");
    REQUIRE(back.size() == rgb.size());
    for (std::size_t i = 0; i < 3; ++i)
        CHECK(std::abs(static_cast<int>(static_cast<std::uint8_t>(back[6144 + i])) - rgb[i]) <= 3);
}

TEST_CASE("a film that is not finished leaves nothing behind, and an older film stays") {
    const clips::Folder folder;
    const std::string path = folder.file("kept.mp4");
    write(path, {.width_px = 64, .height_px = 64}, 3);
    const std::string before = bytes_of(path);
    {
        FilmWriter writer(path, {.width_px = 64, .height_px = 64});
        for (int i = 0; i < 90; ++i)
            writer.add(picture(64, 64, i));
    }
    CHECK(bytes_of(path) == before);
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("a disk without room is one clear line and leaves nothing behind") {
    const clips::Folder folder;
    const std::string path = folder.file("full.mp4");
    rlimit before{};
    getrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{20000, before.rlim_max};
    setrlimit(RLIMIT_FSIZE, &small);
    std::string said;
    try {
        write(path, {.width_px = 320, .height_px = 180, .crf = 0}, 200);
    } catch (const FilmError& error) {
        said = error.what();
        CHECK(error.fault == FilmFault::cannot_write);
    }
    setrlimit(RLIMIT_FSIZE, &before);
    CHECK(said == "cannot write the film " + path + ": File too large");
    CHECK(files_in(folder.path()) == 0);
}

TEST_CASE("wishes that cannot be met are named") {
    const clips::Folder folder;
    CHECK_THROWS_WITH_AS(FilmWriter(folder.file("odd.mp4"), {.width_px = 33, .height_px = 64}),
                         doctest::Contains("width and height must be even, got 33x64"), FilmError);
    CHECK_THROWS_WITH_AS(FilmWriter("/nowhere/at/all.mp4", {}),
                         doctest::Contains("No such file or directory"), FilmError);
}
