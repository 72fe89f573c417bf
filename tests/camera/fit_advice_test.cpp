#include "camera/fit_advice.h"
#include "camera/made_camera.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);

struct Fitted {
    RinkFit fit;
    std::vector<IcePoint> places;
};

Fitted fitted(const made::Camera& camera, const std::vector<std::string>& names,
              const std::vector<NextClick>& on_curves) {
    RinkClicks clicks;
    Fitted made;
    for (const std::string& name : names) {
        const Landmark mark = find_landmark(nhl, name).value();
        clicks.points.push_back({made::see(camera, mark.at), mark.at, mark.label});
        made.places.push_back(mark.at);
    }
    for (const NextClick& click : on_curves)
        clicks.curves.push_back({click.expected, find_curve(nhl, click.name).value()});
    made.fit = fit_rink(clicks, camera.image);
    return made;
}

} // namespace

TEST_CASE("what is offered shrinks the depth sigma as much as it says; the first by the most") {
    const made::Camera camera;
    const std::vector<std::string> names{"left_spot", "right_spot", "left_circle_high", "right_circle_high"};
    const Fitted far_from_net = fitted(camera, names, {});
    const double now_m = depth_sigma_before_net_m(far_from_net.fit);
    const std::vector<NextClick> offers = next_clicks(far_from_net.fit, far_from_net.places, nhl);
    REQUIRE(offers.size() > 10);
    CHECK(offers.front().place.y_m < 2.0); // these four say little about the crease
    CHECK(worth_a_click(now_m, offers.front()));
    double before_m = 0.0;
    int curves = 0;
    for (const NextClick& offer : offers) {
        CAPTURE(offer.name);
        CHECK(offer.sigma_then_m >= before_m);
        before_m = offer.sigma_then_m;
        CHECK(std::ranges::find(names, offer.name) == names.end());
        CHECK(offer.expected.x_px == doctest::Approx(made::see(camera, offer.place).x_px));
        std::vector<std::string> more = names;
        if (!offer.on_curve) more.push_back(offer.name);
        curves += offer.on_curve ? 1 : 0;
        try {
            const Fitted then =
                fitted(camera, more, offer.on_curve ? std::vector{offer} : std::vector<NextClick>{});
            CHECK(depth_sigma_before_net_m(then.fit) == doctest::Approx(offer.sigma_then_m).epsilon(0.02));
        } catch (const FitError& refused) {
            CHECK(refused.fault == FitFault::collinear); // on one line with the others
        }
    }
    CHECK(curves >= 4);
}

TEST_CASE("a curve is offered first where it says more than any landmark in the picture") {
    // The end of the zone in a narrow picture: no landmark is in it but those clicked.
    made::Camera camera;
    const std::vector<std::string> names{"left_post",         "right_post", "left_crease_foot",
                                         "right_crease_foot", "crease_top", "left_crease_mark",
                                         "right_crease_mark"};
    Fitted near_net = fitted(camera, names, {});
    for (const Landmark& mark : landmarks(nhl))
        near_net.places.push_back(mark.at);
    const std::vector<NextClick> offers = next_clicks(near_net.fit, near_net.places, nhl);
    REQUIRE_FALSE(offers.empty());
    CHECK(offers.front().on_curve);
    CHECK(distance_m(find_curve(nhl, offers.front().name).value(), offers.front().place) < 1e-9);
    for (const IcePoint clicked : near_net.places)
        CHECK(distance(clicked, offers.front().place) >= 1.0);
}

TEST_CASE("far outside the clicks is extrapolated") {
    const std::vector<ImagePoint> clicks{{100, 100}, {300, 100}, {300, 300}, {100, 300}};
    CHECK_FALSE(extrapolated(clicks, {200, 200}));
    CHECK_FALSE(extrapolated(clicks, {350, 200}));
    CHECK(extrapolated(clicks, {600, 200}));
}

TEST_CASE("what is extrapolated is less sure") {
    const made::Camera camera;
    const Fitted made =
        fitted(camera, {"left_post", "right_post", "crease_top", "left_spot", "right_spot"}, {});
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
    const Fitted made =
        fitted(camera, {"left_post", "right_post", "left_spot", "right_spot", "crease_top"}, {});
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
