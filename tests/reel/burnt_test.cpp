// A drawing in the film's colours. Truth: the coefficients of ITU-R BT.709, worked out by hand and rounded.
#include "reel/burnt.h"

#include <doctest/doctest.h>

#include <array>

namespace ropeline {
namespace {

std::array<int, 3> painted(OverlayColour colour, int film_luma) {
    const Surface surface = make_surface(8, 8);
    set_colour(make_pen(surface.get()).get(), colour);
    const Pen pen = make_pen(surface.get());
    set_colour(pen.get(), colour);
    cairo_paint(pen.get());
    YuvPicture picture(8, 8);
    for (int row = 0; row < 8; ++row)
        std::fill_n(picture.plane(0) + row * picture.stride(0), 8, static_cast<std::uint8_t>(film_luma));
    Burnt(surface.get()).onto(picture);
    return {picture.plane(0)[0], picture.plane(1)[0], picture.plane(2)[0]};
}

void check_near(std::array<int, 3> found, std::array<int, 3> wanted) {
    for (std::size_t i = 0; i < 3; ++i) {
        CAPTURE(i);
        CHECK(std::abs(found[i] - wanted[i]) <= 1);
    }
}

} // namespace

TEST_CASE("white, black, red and blue come out as BT.709 in video range") {
    check_near(painted(overlay_colour(255, 255, 255), 90), {235, 128, 128});
    check_near(painted(overlay_colour(0, 0, 0), 90), {16, 128, 128});
    check_near(painted(overlay_colour(255, 0, 0), 90), {63, 102, 240});
    check_near(painted(overlay_colour(0, 0, 255), 90), {32, 240, 118});
}

TEST_CASE("half see-through is half the film; where nothing is drawn the film stays as it is") {
    check_near(painted(overlay_colour(255, 255, 255, 0.5), 55), {145, 128, 128});
    check_near(painted(overlay_colour(255, 255, 255, 0.0), 55), {55, 128, 128});
    const Surface empty = make_surface(8, 8);
    YuvPicture picture(8, 8);
    picture.plane(0)[3] = 200;
    Burnt(empty.get()).onto(picture);
    CHECK(picture.plane(0)[3] == 200);
}

} // namespace ropeline
