// After a cut: ice that looks alike but is not what was fitted must never be taken for it.
#include "camera/carry.h"
#include "carry/filmed.h"
#include "demo/filming.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace ropeline;

namespace {

const RuleBook& rules = rule_book(demo::demo_rules);
const demo::Vec3 bench_side{-19.5, 13.0, 9.6};

FilmedShot fitted_shot() {
    return {bench_side, [](double s) { return Aim{{-1.0, 5.0 + 1.5 * s}, 1100.0 + 60.0 * s}; }, 40, 300};
}

/// Its pictures, made once for all cuts away from it.
const std::vector<demo::Canvas>& fitted_pictures() {
    static const std::vector<demo::Canvas> pictures = [] {
        std::vector<demo::Canvas> made;
        const FilmedShot shot = fitted_shot();
        for (int frame = 0; frame < shot.count(); ++frame)
            made.push_back(shot.picture(frame));
        return made;
    }();
    return pictures;
}

/// Worst error of a place on the ice over the picture, metres, out to 30 m from the camera.
double worst_error_m(const RinkFit& fit, const demo::PinholeCamera& camera) {
    double worst_m = 0.0;
    const demo::CameraAxes view = demo::axes(camera);
    for (const double u : {0.2, 0.5, 0.8}) {
        for (const double v : {0.4, 0.6, 0.8}) {
            const ImagePoint at{u * camera.size.width_px, v * camera.size.height_px};
            const demo::Vec3 way = demo::ray_through(camera, view, at);
            if (!(way.z < 0.0)) continue;
            const double reach = -camera.position.z / way.z;
            const IcePoint truth{camera.position.x + reach * way.x, camera.position.y + reach * way.y};
            if (distance(truth, {camera.position.x, camera.position.y}) > 30.0) continue;
            const auto ice = ice_at(fit, at);
            worst_m = std::max(worst_m, ice ? distance(*ice, truth) : 99.0);
        }
    }
    return worst_m;
}

struct Found {
    int held = 0;
    double worst_held_m = 0.0;
};

/// A shot that was fitted, then a cut to another.
Found after_cut_to(const FilmedShot& other) {
    const std::vector<demo::Canvas>& pictures = fitted_pictures();
    Carrier carrier(clicked_fit(fitted_shot().camera(0), 1.0), rules);
    carrier.start(view_of(pictures.front()));
    for (std::size_t i = 1; i < pictures.size(); ++i)
        carrier.next(view_of(pictures[i]));
    Found found;
    for (int frame = 0; frame < other.count(); ++frame) {
        const demo::Canvas picture = other.picture(frame);
        const CarriedFrame now = carrier.next(view_of(picture));
        if (now.state != CarryState::held) continue;
        ++found.held;
        found.worst_held_m = std::max(found.worst_held_m, worst_error_m(now.fit, other.camera(frame)));
    }
    MESSAGE("held " << found.held << " of " << other.count() << ", worst while held " << found.worst_held_m
                    << " m");
    return found;
}

} // namespace

TEST_CASE("the far end from the place across, painted line for line alike, is not taken for this end") {
    const auto turned = [](IcePoint at) { return from_other_end(rules, at); };
    const IcePoint place = turned({bench_side.x, bench_side.y});
    const FilmedShot across(
        {place.x_m, place.y_m, bench_side.z},
        [&](double s) {
            return Aim{turned({-1.0, 6.5 + 0.5 * s}), 1150.0};
        },
        40, 360);
    CHECK(after_cut_to(across).held == 0);
}

TEST_CASE("the same end from the other side, as in a mirror, is not taken for this side") {
    const FilmedShot mirrored(
        {-bench_side.x, bench_side.y, bench_side.z},
        [](double s) {
            return Aim{{1.0, 6.5 + 0.5 * s}, 1150.0};
        },
        40, 360);
    CHECK(after_cut_to(mirrored).held == 0);
}

TEST_CASE("a second camera beside the first is either refused or right") {
    for (const demo::Vec3 aside :
         {demo::Vec3{0.0, 1.5, 0.0}, demo::Vec3{-1.0, 3.0, 1.0}, demo::Vec3{0.5, -6.0, -2.0}}) {
        const FilmedShot beside(
            bench_side + aside,
            [](double s) {
                return Aim{{-1.0, 6.0 + 0.5 * s}, 1120.0};
            },
            30, 360);
        CHECK(after_cut_to(beside).worst_held_m <= 0.30);
    }
}

TEST_CASE("a close-up of clean ice is not taken for the ice that was fitted") {
    const FilmedShot blank(
        bench_side,
        [](double s) {
            return Aim{{3.0 + s, 13.0}, 5200.0};
        },
        30, 360);
    CHECK(after_cut_to(blank).worst_held_m <= 0.30);
}
