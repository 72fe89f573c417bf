#include "camera/fit_advice.h"
#include "camera/made_camera.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);

struct Fitted {
    RinkFit fit;
    std::vector<IcePoint> places;
};

Fitted fitted(const made::Camera& camera, std::initializer_list<const char*> names) {
    std::vector<LandmarkClick> clicks;
    Fitted made;
    for (const char* name : names) {
        const Landmark mark = find_landmark(nhl, name).value();
        clicks.push_back({made::see(camera, mark.at), mark.at, mark.label});
        made.places.push_back(mark.at);
    }
    made.fit = fit_rink(clicks, camera.image);
    return made;
}

} // namespace

TEST_CASE("the offered landmark shrinks the sigma as much as it says, and more than the others") {
    const made::Camera camera;
    const auto names = {"left_spot", "right_spot", "left_circle_high", "right_circle_high"};
    const Fitted far_from_net = fitted(camera, names);
    const auto next = next_landmark(far_from_net.fit, far_from_net.places, nhl);
    REQUIRE(next.has_value());
    CHECK(next->mark.at.y_m < 2.0); // these four say little about the crease
    CHECK(next->sigma_then_m < next->sigma_now_m);
    const Fitted with = fitted(camera, {"left_spot", "right_spot", "left_circle_high", "right_circle_high",
                                        next->mark.name.c_str()});
    const auto after = next_landmark(with.fit, with.places, nhl);
    if (after) CHECK(after->sigma_now_m == doctest::Approx(next->sigma_then_m).epsilon(0.01));
    for (const Landmark& other : landmarks(nhl)) {
        if (other.name == next->mark.name || other.at.y_m > 10.0) continue;
        bool clicked = false;
        for (const char* name : names)
            clicked = clicked || other.name == name;
        const ImagePoint seen = made::see(camera, other.at);
        if (clicked || seen.x_px < 4 || seen.x_px > 1916 || seen.y_px < 4 || seen.y_px > 1076) continue;
        try {
            const Fitted instead = fitted(camera, {"left_spot", "right_spot", "left_circle_high",
                                                   "right_circle_high", other.name.c_str()});
            const auto then = next_landmark(instead.fit, instead.places, nhl);
            if (then) CHECK(then->sigma_now_m >= next->sigma_then_m * 0.999);
        } catch (const FitError&) {
            continue; // on one line with the others
        }
    }
}

TEST_CASE("far outside the clicks is extrapolated") {
    const std::vector<ImagePoint> clicks{{100, 100}, {300, 100}, {300, 300}, {100, 300}};
    CHECK_FALSE(extrapolated(clicks, {200, 200}));
    CHECK_FALSE(extrapolated(clicks, {350, 200}));
    CHECK(extrapolated(clicks, {600, 200}));
}

TEST_CASE("what is extrapolated is less sure") {
    const made::Camera camera;
    const Fitted made = fitted(camera, {"left_post", "right_post", "crease_top", "left_spot", "right_spot"});
    const auto sigma_m = [&](IcePoint at) {
        return std::sqrt(ice_covariance(made.fit, made::see(camera, at), 0.0).yy);
    };
    std::vector<ImagePoint> clicks;
    for (const IcePoint at : made.places)
        clicks.push_back(made::see(camera, at));
    CHECK_FALSE(extrapolated(clicks, made::see(camera, {0.0, 3.0})));
    CHECK(extrapolated(clicks, made::see(camera, {0.0, 26.0})));
    CHECK(sigma_m({0.0, 26.0}) > 3.0 * sigma_m({0.0, 3.0}));
    CHECK(sigma_m({0.0, 14.0}) > sigma_m({0.0, 9.0}));
}

// Worked: 0.25 ft at 105 ft from a camera 45 ft high moves by 0.58 ft.
TEST_CASE("height above the ice moves a mark away from the camera") {
    made::Camera camera;
    camera.y_m = 105.0 * 0.3048;
    camera.height_m = 45.0 * 0.3048;
    camera.looks_at = {0.0, 2.0};
    camera.focal_px = 2500.0;
    const Fitted made = fitted(camera, {"left_post", "right_post", "left_spot", "right_spot", "crease_top"});
    const auto bias = height_bias(made.fit, made::see(camera, {0.0, 0.0}), 0.25 * 0.3048);
    REQUIRE(bias.has_value());
    CHECK(bias->camera_height_m == doctest::Approx(45.0 * 0.3048).epsilon(1e-3));
    CHECK(bias->shift_m == doctest::Approx(0.58 * 0.3048).epsilon(0.02));
}

TEST_CASE("IIHF clicks on an NHL rink are noticed") {
    const made::Camera camera;
    std::vector<NamedClick> clicks;
    for (const char* name :
         {"left_post", "right_post", "crease_top", "left_spot", "right_spot", "left_circle_high",
          "right_circle_low", "left_inner_hash_low", "right_neutral_spot"}) {
        clicks.push_back(
            {made::see(camera, find_landmark(rule_book(RuleBookId::iihf), name).value().at), name});
    }
    CHECK(better_rule_book(clicks, RuleBookId::nhl, camera.image) == RuleBookId::iihf);
    CHECK_FALSE(better_rule_book(clicks, RuleBookId::iihf, camera.image).has_value());
}
