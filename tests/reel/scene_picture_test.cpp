// A chart as a PNG file, read back by Cairo.
#include "reel/drawing.h"
#include "reel/scene_picture.h"
#include "sheet/svg.h"

#include <doctest/doctest.h>

#include <array>
#include <cstring>

namespace ropeline {
namespace {

struct Bytes {
    std::string all;
    std::size_t at = 0;
};

cairo_status_t read_some(void* from, unsigned char* to, unsigned int length) {
    auto& bytes = *static_cast<Bytes*>(from);
    if (bytes.at + length > bytes.all.size()) return CAIRO_STATUS_READ_ERROR;
    std::memcpy(to, bytes.all.data() + bytes.at, length);
    bytes.at += length;
    return CAIRO_STATUS_SUCCESS;
}

struct PngRead {
    Surface surface;
    explicit PngRead(std::string png) {
        Bytes bytes{std::move(png)};
        surface.reset(cairo_image_surface_create_from_png_stream(read_some, &bytes));
        REQUIRE(cairo_surface_status(surface.get()) == CAIRO_STATUS_SUCCESS);
    }
    int width() const { return cairo_image_surface_get_width(surface.get()); }
    int height() const { return cairo_image_surface_get_height(surface.get()); }
    std::array<int, 3> at(int x, int y) const {
        const unsigned char* row =
            cairo_image_surface_get_data(surface.get()) +
            static_cast<std::ptrdiff_t>(y) * cairo_image_surface_get_stride(surface.get());
        return {row[4 * x + 2], row[4 * x + 1], row[4 * x]};
    }
};

std::array<int, 3> paper_colour(Ink ink) {
    const Rgb rgb = ink_on_paper(ink);
    return {rgb.red, rgb.green, rgb.blue};
}

} // namespace

TEST_CASE("a chart's PNG has the chart's shape and its colours where they belong") {
    Scene scene;
    scene.height = 0.5;
    scene.items.emplace_back(SceneFill{{{0.25, 0.1}, {0.75, 0.1}, {0.75, 0.4}, {0.25, 0.4}}, Ink::goal});
    scene.items.emplace_back(SceneStroke{{{0.0, 0.45}, {1.0, 0.45}}, 0.02, Ink::save});
    const PngRead png{png_of(scene, 400)};
    CHECK(png.width() == 400);
    CHECK(png.height() == 200);
    CHECK(png.at(5, 5) == paper_colour(Ink::paper));
    CHECK(png.at(200, 100) == paper_colour(Ink::goal));
    CHECK(png.at(200, 180) == paper_colour(Ink::save));
}

TEST_CASE("a chart's words stand on their base line in its PNG, before and behind their anchor") {
    for (const Anchor anchor : {Anchor::start, Anchor::end}) {
        Scene scene;
        scene.height = 0.5;
        scene.items.emplace_back(SceneText{{0.5, 0.25}, "HHHH", 0.1, anchor, Ink::text, true});
        const PngRead png{png_of(scene, 400)};
        int left = 0, right = 0, above = 0, below = 0;
        for (int y = 0; y < 200; ++y)
            for (int x = 0; x < 400; ++x)
                if (png.at(x, y)[0] < 128) {
                    ++(x < 200 ? left : right);
                    ++(y < 101 ? above : below);
                }
        CHECK((anchor == Anchor::start ? left : right) < 20);
        CHECK((anchor == Anchor::start ? right : left) > 500);
        CHECK(above > 500);
        CHECK(below < above / 10);
    }
}

} // namespace ropeline
