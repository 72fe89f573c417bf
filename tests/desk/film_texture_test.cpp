// The picture on screen in the film's own colours, upright: by the shader of a graphics card, and by the
// converter that takes its place where Mesa draws on the processor. Both are held against libswscale's exact
// conversion, which rgb_test.cpp holds against the ffmpeg command line.
#include "desk/film_texture.h"

#include "desk/hidden_window.h"
#include "film/clips.h"
#include "film/film_reader.h"
#include "film/rgb.h"

#include <SDL.h>
#include <SDL_opengl.h>
#include <doctest/doctest.h>

#include <cstdlib>
#include <memory>
#include <utility>
#include <vector>

using namespace ropeline;
using test::HiddenWindow;

namespace {

std::vector<std::uint8_t> bytes_of(const FilmTexture& texture) {
    std::vector<std::uint8_t> rgb(static_cast<std::size_t>(texture.width_px() * texture.height_px() * 3));
    glBindTexture(GL_TEXTURE_2D, texture.id());
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glGetTexImage(GL_TEXTURE_2D, 0, GL_RGB, GL_UNSIGNED_BYTE, rgb.data());
    return rgb;
}

} // namespace

TEST_CASE("the picture on screen has the film's own colours, whichever way it was filmed") {
    const HiddenWindow window;
    const clips::Folder folder;
    // Soft edges: how colour is spread between its samples, a pixel to either side, is not what is asked here.
    const std::string source = "-f lavfi -i testsrc2=s=192x108:r=25:d=0.2 -vf gblur=sigma=4";
    for (const char* made :
         {"scale,format=yuv420p", "format=yuv444p", "format=yuv422p10", "format=nv12", "format=gray",
          "format=rgb24", "scale=out_color_matrix=bt709,format=yuv420p -colorspace bt709",
          "scale=out_color_matrix=bt2020,format=yuv420p10 -colorspace bt2020nc",
          "scale=out_range=full,format=yuvj420p -color_range pc"}) {
        CAPTURE(made);
        const std::string path = folder.file("film.nut");
        const bool lossless_rgb = std::string{made} == "format=rgb24";
        clips::ffmpeg(source + "," + made + (lossless_rgb ? " -c:v png " : " -c:v rawvideo ") +
                      clips::quoted(path));
        FilmReader film(path, {.threads = clips::decoder_threads});
        const auto picture = film.picture(FrameIndex{0});
        for (const int degrees : {0, 90, 180, 270}) {
            CAPTURE(degrees);
            FilmFacts facts = film.facts();
            facts.rotation_degrees = degrees;
            if (degrees % 180 != 0) std::swap(facts.shown_width_px, facts.shown_height_px);
            FilmTexture texture;
            texture.put(*picture, facts);
            const RgbPicture exact = rgb_of(*picture, facts);
            REQUIRE(texture.width_px() == exact.width_px);
            REQUIRE(texture.height_px() == exact.height_px);
            const auto shown = bytes_of(texture);
            double sum = 0.0;
            for (std::size_t i = 0; i < shown.size(); ++i)
                sum += std::abs(static_cast<int>(shown[i]) - exact.bytes[i]);
            // Upright, the quick converter cuts off what the exact one rounds and takes the nearest colour.
            CHECK(sum / static_cast<double>(shown.size()) < (degrees == 0 ? 3.0 : 1.0));
        }
    }
}
