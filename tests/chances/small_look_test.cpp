// What small pictures say, on rendered scenes of known truth.
#include "chances/small_look.h"

#include "demo/arena.h"
#include "demo/backdrop.h"
#include "demo/figure.h"
#include "demo/filming.h"
#include "demo/filming_look.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>

using namespace ropeline;

namespace {

constexpr ImageSize small_size{look_width_px, look_width_px * 9 / 16};

/// Nobody on the ice, the net at its place.
demo::Canvas rink(const demo::PinholeCamera& camera, const demo::PaintLook& paint) {
    static const demo::Arena television(rule_book(demo::demo_rules), 11, demo::television_paint());
    static const demo::Arena plain(rule_book(demo::demo_rules), 11);
    demo::Canvas canvas = demo::still_backdrop(paint.art ? television : plain, camera);
    demo::Mask mask(canvas.size);
    demo::draw(canvas, mask, camera, demo::net_figures(rule_book(demo::demo_rules)));
    return canvas;
}

demo::PinholeCamera looking_at(IcePoint at, double focal_px = 525.0) {
    demo::PinholeCamera camera = demo::aimed({-24.0, 22.0, 11.0}, {at.x_m, at.y_m, 0.6}, focal_px);
    camera.size = small_size;
    return camera;
}

SmallPicture small_of(const demo::Canvas& canvas) {
    return small_picture_of(
        {canvas.rgb.data(), canvas.size.width_px, canvas.size.height_px, 3 * canvas.size.width_px});
}

} // namespace

TEST_CASE("a net is seen by its crease and its frame, where it stands") {
    for (const auto& paint : {demo::PaintLook{}, demo::television_paint()}) {
        const demo::PinholeCamera camera = looking_at({0.0, 5.0});
        const auto seen = find_net(small_of(rink(camera, paint)));
        REQUIRE(seen);
        const demo::Projected there = demo::project(camera, demo::axes(camera), {0.0, 0.7, 0.0});
        CHECK(std::hypot(seen->x_px - there.at.x_px, seen->y_px - there.at.y_px) < 12.0);
    }
}

TEST_CASE("blue lines, art, red advertising and what the ice mirrors of it are no net") {
    const double step_m = std::getenv("ROPELINE_LONG_TESTS") ? 1.5 : 3.0;
    for (const auto& paint : {demo::PaintLook{}, demo::television_paint()}) {
        for (double y_m = 22.0; y_m <= 34.0; y_m += step_m) {
            CAPTURE(y_m);
            CHECK_FALSE(find_net(small_of(rink(looking_at({0.0, y_m}), paint))));
        }
    }
}

TEST_CASE(
    "the scenes have what must not be taken for a net: blue and red paint, and red and blue on the boards") {
    int blue = 0, red = 0;
    const SmallPicture picture = small_of(rink(looking_at({0.0, 27.0}), demo::television_paint()));
    for (std::size_t i = 0; i < picture.luma.size(); ++i) {
        blue += picture.blue[i] > 8.0F ? 1 : 0;
        red += picture.red[i] > 8.0F ? 1 : 0;
    }
    CHECK(blue > 100);
    CHECK(red > 100);
}

TEST_CASE("a pan is found as the move it is, and another place as another picture") {
    const demo::PaintLook paint = demo::television_paint();
    const auto coarse = [&](IcePoint at) { return coarse_of(small_of(rink(looking_at(at), paint))); };
    const CoarsePicture before = coarse({0.0, 8.0});
    const PictureChange still = change_between(before, before);
    CHECK(still.likeness > 0.999);
    CHECK(std::hypot(still.dx_px, still.dy_px) == 0.0);
    const PictureChange panned = change_between(before, coarse({0.0, 9.0}));
    CHECK(panned.likeness > 0.6);
    CHECK(std::hypot(panned.dx_px, panned.dy_px) > 4.0);
    CHECK(change_between(before, coarse({0.0, 30.0})).likeness < 0.5);
}

TEST_CASE("a flash makes a picture brighter and hardly another one") {
    const demo::PinholeCamera camera = looking_at({0.0, 8.0});
    demo::Canvas lit = rink(camera, {});
    const CoarsePicture before = coarse_of(small_of(lit));
    demo::FilmingLook look;
    look.flashes = {5};
    demo::dress(lit, look, camera, 6, 11); // half as bright
    CHECK(change_between(before, coarse_of(small_of(lit))).likeness > 0.5);
}

TEST_CASE("what stirs about the crease is measured with the camera's move taken out") {
    const demo::PaintLook paint = demo::television_paint();
    const SmallPicture before = small_of(rink(looking_at({0.0, 5.0}), paint));
    demo::Canvas moved = rink(looking_at({0.0, 5.4}), paint);
    const SmallPicture now = small_of(moved);
    const PictureChange change = change_between(coarse_of(before), coarse_of(now));
    const auto net = find_net(now);
    REQUIRE(net);
    const auto stir = [&](const SmallPicture& picture) {
        return stir_in(before, picture, change, net->x_px, net->y_px, net->width_px, net->height_px);
    };
    const double calm = stir(now);
    SmallPicture crowded = now;
    for (int y = 0; y < 15; ++y) {
        for (int x = 0; x < 8; ++x)
            crowded.luma[static_cast<std::size_t>((static_cast<int>(net->y_px) - y) * crowded.width_px +
                                                  static_cast<int>(net->x_px) + x)] = 30.0F;
    }
    CHECK(stir(crowded) > 1.5 * calm);
}
