#include "film/rgb.h"

#include "film/film_error.h"
#include "film/film_reader.h"

#include <doctest/doctest.h>

#include <cstdlib>

#include "film/clips.h"

using namespace ropeline;

namespace {

// Mean difference per sample of the first frame to what the ffmpeg command line makes of it.
double difference_to_ffmpeg(const std::string& path, const RgbPicture& ours, int channels,
                            const std::string& matrix, const std::string& flags) {
    const std::string size = std::to_string(ours.width_px) + ":" + std::to_string(ours.height_px);
    const std::string theirs =
        clips::output_of("ffmpeg -nostdin -v error -i " + clips::quoted(path) +
                         " -frames:v 1 -vf scale=" + size + ":in_color_matrix=" + matrix + ":flags=" + flags +
                         " -f rawvideo -pix_fmt " + (channels == 4 ? "rgba -" : "rgb24 -"));
    REQUIRE(theirs.size() == static_cast<std::size_t>(ours.width_px * ours.height_px * channels));
    REQUIRE(ours.bytes.size() >= theirs.size());
    double sum = 0.0;
    for (std::size_t i = 0; i < theirs.size(); ++i) {
        sum += std::abs(static_cast<int>(static_cast<std::uint8_t>(theirs[i])) - ours.bytes[i]);
    }
    return sum / static_cast<double>(theirs.size());
}

// Upright and in square pixels.
double difference_to_ffmpeg(const std::string& path, const std::string& matrix) {
    FilmReader film(path, {.threads = clips::decoder_threads});
    return difference_to_ffmpeg(path, rgb_of(*film.picture(FrameIndex{0}), film.facts()), 3, matrix,
                                "bicubic+accurate_rnd+full_chroma_int");
}

double quick_difference_to_ffmpeg(const std::string& path, const std::string& matrix) {
    FilmReader film(path, {.threads = clips::decoder_threads});
    const auto picture = film.picture(FrameIndex{0});
    RgbPicture quick{picture->width_px(), picture->height_px(), {}};
    quick_rgba_of(*picture, film.facts(), quick.bytes);
    return difference_to_ffmpeg(path, quick, 4, matrix, "neighbor");
}

} // namespace

TEST_CASE("colours, matrix and range agree with the ffmpeg command line") {
    const clips::Folder folder;
    const std::string source = "-f lavfi -i testsrc2=s=192x108:r=25:d=0.2 ";
    struct Row {
        const char *name, *arguments, *matrix;
    };
    for (const Row& row :
         {Row{"sd.mp4", "-c:v libx264 -crf 5 -pix_fmt yuv420p", "bt601"},
          Row{"tagged.mp4",
              "-vf scale=out_color_matrix=bt709 -c:v libx264 -crf 5 -pix_fmt yuv420p -colorspace bt709",
              "bt709"},
          Row{"ten.mp4", "-c:v libx265 -x265-params log-level=none:crf=5 -pix_fmt yuv420p10le", "bt601"},
          Row{"wide.mov", "-c:v prores_ks -pix_fmt yuv422p10le", "bt601"},
          Row{"full.avi", "-c:v mjpeg -q:v 2 -pix_fmt yuvj420p", "bt601"},
          Row{"four.mp4", "-c:v libx264 -crf 5 -pix_fmt yuv444p", "bt601"}}) {
        CAPTURE(row.name);
        const std::string path = folder.file(row.name);
        clips::ffmpeg(source + row.arguments + " " + clips::quoted(path));
        CHECK(difference_to_ffmpeg(path, row.matrix) < 1.0);
        CHECK(quick_difference_to_ffmpeg(path, row.matrix) < 1.0);
    }
}

TEST_CASE("a turned film comes out upright, a film of long samples comes out in square ones") {
    const clips::Folder folder;
    const std::string plain = folder.file("plain.mp4");
    clips::ffmpeg("-f lavfi -i testsrc2=s=192x108:r=25:d=0.2 -c:v libx264 -crf 5 -pix_fmt yuv420p " +
                  clips::quoted(plain));
    for (const int degrees : {90, 180, 270}) {
        CAPTURE(degrees);
        const std::string path = folder.file("turned" + std::to_string(degrees) + ".mp4");
        clips::ffmpeg("-i " + clips::quoted(plain) +
                      " -c copy -metadata:s:v rotate=" + std::to_string(degrees) + " " + clips::quoted(path));
        // ffprobe gives the turn counter-clockwise.
        const int there = std::stoi(clips::output_of(
            "ffprobe -v error -show_entries stream_side_data=rotation -of csv=p=0 " + clips::quoted(path)));
        CHECK(FilmReader(path).facts().rotation_degrees == (720 - there) % 360);
        CHECK(FilmReader(path).facts().shown_width_px == (degrees == 180 ? 192 : 108));
        CHECK(difference_to_ffmpeg(path, "bt601") < 1.0);
    }
    const std::string stretched = folder.file("stretched.mp4");
    clips::ffmpeg(
        "-f lavfi -i testsrc2=s=144x108:r=25:d=0.2 -vf setsar=4/3 -c:v libx264 -crf 5 -pix_fmt yuv420p " +
        clips::quoted(stretched));
    CHECK(FilmReader(stretched).facts().shown_width_px == 192);
    CHECK(difference_to_ffmpeg(stretched, "bt601") < 1.0);
}

TEST_CASE(
    "a small picture is as wide as asked for and as tall as the film, a strip no more than four times") {
    const clips::Folder folder;
    struct Row {
        const char *name, *size;
        int height_px;
    };
    for (const Row& row : {Row{"usual.mp4", "192x108", 36}, Row{"upright.mp4", "108x192", 114},
                           Row{"strip.avi", "16x2000", 256}, Row{"flat.avi", "2000x16", 1}}) {
        CAPTURE(row.name);
        const std::string path = folder.file(row.name);
        clips::ffmpeg("-f lavfi -i testsrc2=r=25:d=0.1:s=" + std::string(row.size) + " " +
                      clips::quoted(path));
        FilmReader film(path, {.threads = clips::decoder_threads});
        const RgbPicture small = small_rgb_of(*film.picture(FrameIndex{0}), film.facts(), 64);
        CHECK(small.width_px == 64);
        CHECK(small.height_px == row.height_px);
        CHECK(small.bytes.size() == static_cast<std::size_t>(64 * 3 * row.height_px));
    }
}
