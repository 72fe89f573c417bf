#include "camera/made_camera.h"
#include "camera/rink_fit.h"
#include "rink/curves.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);

RinkClicks clicks_on(const made::Camera& camera, std::initializer_list<const char*> names,
                     std::initializer_list<std::pair<const char*, IcePoint>> on_curves) {
    RinkClicks clicks;
    for (const char* name : names) {
        const Landmark mark = find_landmark(nhl, name).value();
        clicks.points.push_back({made::see(camera, mark.at), mark.at, mark.label});
    }
    for (const auto& [curve, at] : on_curves)
        clicks.curves.push_back({made::see(camera, at), find_curve(nhl, curve).value()});
    return clicks;
}

IcePoint on_circle(IcePoint centre, double radius, double degrees) {
    const double angle = degrees * 3.14159265358979323846 / 180.0;
    return centre + IcePoint{radius * std::cos(angle), radius * std::sin(angle)};
}

void check_truth(const RinkFit& fit, const made::Camera& camera, double within_m) {
    for (const IcePoint at :
         {IcePoint{0.0, 1.5}, IcePoint{-3.0, 4.0}, IcePoint{4.0, 9.0}, IcePoint{1.0, 0.2}}) {
        const auto mapped = ice_at(fit, made::see(camera, at));
        REQUIRE(mapped.has_value());
        CHECK(distance(*mapped, at) < within_m);
    }
}

const IcePoint left_spot{-6.7056, 6.0960}, right_spot{6.7056, 6.0960};

} // namespace

TEST_CASE("clicks on curves that are exact leave the exact fit where it is") {
    const made::Camera camera;
    const RinkFit fit = fit_rink(clicks_on(camera, {"left_post", "right_post", "left_spot", "right_spot"},
                                           {{"blue_line", {-3.0, 19.3548}},
                                            {"goal_line", {5.0, 0.0}},
                                            {"crease", {0.0, 1.8288}},
                                            {"crease", {1.2192, 0.7}},
                                            {"left_circle", on_circle(left_spot, 4.572, 200.0)},
                                            {"boards", {-12.954, 12.0}}}),
                                 camera.image);
    CHECK(fit.rms_px < 1e-6);
    CHECK(fit.curve_residuals.size() == 6);
    check_truth(fit, camera, 1e-6);
}

TEST_CASE("two posts, a bit of crease, a circle and a stretch of blue line carry a fit") {
    made::Camera camera;
    camera.x_m = 14.0;
    camera.y_m = 34.0;
    camera.height_m = 9.0;
    camera.focal_px = 1300.0;
    camera.looks_at = {0.0, 7.0};
    const RinkFit fit = fit_rink(clicks_on(camera, {"left_post", "right_post"},
                                           {{"blue_line", {-5.0, 19.3548}},
                                            {"blue_line", {4.0, 19.3548}},
                                            {"crease", {0.3, std::sqrt(1.8288 * 1.8288 - 0.09)}},
                                            {"crease", {-1.2192, 0.5}},
                                            {"left_circle", on_circle(left_spot, 4.572, 0.0)},
                                            {"left_circle", on_circle(left_spot, 4.572, 100.0)},
                                            {"left_circle", on_circle(left_spot, 4.572, 220.0)},
                                            {"right_circle", on_circle(right_spot, 4.572, 170.0)},
                                            {"right_circle", on_circle(right_spot, 4.572, 80.0)}}),
                                 camera.image);
    CHECK(fit.rms_px < 1e-5);
    check_truth(fit, camera, 1e-4);
}

TEST_CASE("a click on a curve tightens the fit across it") {
    const made::Camera camera;
    const auto names = {"left_post", "right_post", "left_spot", "right_spot"};
    const RinkFit without = fit_rink(clicks_on(camera, names, {}), camera.image);
    const RinkFit with =
        fit_rink(clicks_on(camera, names, {{"blue_line", {-6.0, 19.3548}}, {"blue_line", {6.0, 19.3548}}}),
                 camera.image);
    const ImagePoint far = made::see(camera, {0.0, 15.0});
    CHECK(ice_covariance(with, far, 0.0).yy < 0.5 * ice_covariance(without, far, 0.0).yy);
}

TEST_CASE("clicks that fix too little are refused with the count") {
    const made::Camera camera;
    CHECK_THROWS_WITH_AS(
        fit_rink(clicks_on(camera, {"left_post", "right_post"}, {{"blue_line", {0.0, 19.3548}}}),
                 camera.image),
        "two landmarks and one clicks on lines give 5 numbers, two a landmark and one a line; a rink fit "
        "needs eight",
        FitError);
    // Any number of clicks on parallel lines leaves the picture free to slide along them.
    RinkClicks parallel = clicks_on(camera, {"left_post", "right_post"}, {});
    for (double x = -6.0; x <= 6.0; x += 2.0) {
        parallel.curves.push_back({made::see(camera, {x, 19.3548}), find_curve(nhl, "blue_line").value()});
        parallel.curves.push_back({made::see(camera, {x, 0.0}), find_curve(nhl, "goal_line").value()});
    }
    CHECK_THROWS_AS(fit_rink(parallel, camera.image), FitError);
}

TEST_CASE("a curve click on the wrong curve is named and left out") {
    const made::Camera camera;
    RinkClicks clicks = clicks_on(camera,
                                  {"left_post", "right_post", "left_spot", "right_spot", "crease_top",
                                   "left_circle_low", "right_circle_low", "right_circle_high"},
                                  {{"goal_line", {-3.0, 0.0}}, {"blue_line", {-3.0, 12.0}}});
    const RinkFit fit = fit_rink(clicks, camera.image);
    REQUIRE(fit.warnings.size() == 1);
    CHECK(fit.warnings[0].find("the click on the blue line, middle at") != std::string::npos);
    check_truth(fit, camera, 1e-6);
}

TEST_CASE("boards that stand off the rule book pull a fit less than paint would") {
    const made::Camera camera;
    RinkClicks clicks = clicks_on(
        camera, {"left_post", "right_post", "left_spot", "right_spot", "left_circle_high", "crease_top"},
        {{"boards", IcePoint{-12.954, 9.0}}, {"boards", IcePoint{-12.954, 14.0}}});
    for (CurveClick& click : clicks.curves) // 30 cm further out than they are
        click.at = made::see(camera, {-13.254, ice_at(fit_rink(clicks, camera.image), click.at)->y_m});
    const auto off_m = [&] {
        const IcePoint at{-9.0, 9.0};
        return distance(*ice_at(fit_rink(clicks, camera.image), made::see(camera, at)), at);
    };
    const double as_boards_m = off_m();
    for (CurveClick& click : clicks.curves)
        click.curve.name = "line";
    CHECK(as_boards_m > 0.0);
    CHECK(as_boards_m < 0.7 * off_m());
}

TEST_CASE("a landmark at the boards pulls a fit less than one on paint") {
    const made::Camera camera;
    RinkClicks clicks = clicks_on(
        camera, {"left_post", "right_post", "left_spot", "right_spot", "left_circle_high", "crease_top"}, {});
    const Landmark end = find_landmark(rule_book(RuleBookId::nhl), "left_goal_line_end").value();
    CHECK(end.at_boards);
    clicks.points.push_back({made::see(camera, {end.at.x_m - 0.16, end.at.y_m}), end.at, end.label, true});
    const auto off_m = [&] {
        const IcePoint at{-9.0, 1.0};
        return distance(*ice_at(fit_rink(clicks, camera.image), made::see(camera, at)), at);
    };
    const double as_boards_m = off_m();
    clicks.points.back().at_boards = false;
    CHECK(as_boards_m < 0.7 * off_m());
}
