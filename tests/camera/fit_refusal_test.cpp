#include "camera/made_camera.h"
#include "camera/rink_fit.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <limits>
#include <string>

using namespace ropeline;

namespace {

const made::Camera camera;

LandmarkClick click_on(const std::string& name) {
    const Landmark mark = find_landmark(rule_book(RuleBookId::nhl), name).value();
    return {made::see(camera, mark.at), mark.at, mark.label};
}

std::vector<LandmarkClick> clicks_on(std::initializer_list<const char*> names) {
    std::vector<LandmarkClick> clicks;
    for (const char* name : names)
        clicks.push_back(click_on(name));
    return clicks;
}

struct Refusal {
    FitFault fault;
    std::string words;
};

Refusal refusal_of(const std::vector<LandmarkClick>& clicks, ImageSize image = camera.image) {
    try {
        const RinkFit fit = fit_rink(clicks, image);
        CAPTURE(fit.rms_px);
        CAPTURE(fit.warnings.empty() ? std::string() : fit.warnings[0]);
        FAIL("the clicks were accepted");
    } catch (const FitError& error) {
        CHECK(std::string(error.what()).find('\n') == std::string::npos);
        return {error.fault, error.what()};
    }
    return {};
}

bool says(const Refusal& refusal, const std::string& words) {
    CAPTURE(refusal.words);
    return refusal.words.find(words) != std::string::npos;
}

const auto eight = {"left_post",  "right_post",        "crease_top",        "left_spot",
                    "right_spot", "left_circle_inner", "right_circle_high", "left_blue_line_low"};

} // namespace

TEST_CASE("too few") {
    const Refusal three = refusal_of(clicks_on({"left_post", "right_post", "left_spot"}));
    CHECK(three.fault == FitFault::too_few);
    CHECK(three.words == "3 landmarks are clicked; a rink fit needs four, no three of them on one line");
    CHECK(refusal_of({}).fault == FitFault::too_few);
}

TEST_CASE("all on one line, and three of four on one line") {
    const Refusal all =
        refusal_of(clicks_on({"left_post", "right_post", "left_crease_foot", "right_goal_line_end"}));
    CHECK(all.fault == FitFault::collinear);
    CHECK(says(all, "all four landmarks lie on one line"));
    const Refusal three =
        refusal_of(clicks_on({"left_post", "right_post", "left_crease_foot", "right_spot"}));
    CHECK(three.fault == FitFault::collinear);
    CHECK(says(
        three,
        "three of the four landmarks lie on one line on the ice (left post, inside; right post, inside;"));
    const Refusal most = refusal_of(
        clicks_on({"left_post", "right_post", "left_crease_foot", "right_goal_line_end", "right_spot"}));
    CHECK(most.fault == FitFault::collinear);
}

TEST_CASE("on one line in the picture only") {
    std::vector<LandmarkClick> clicks = clicks_on({"left_post", "right_post", "left_spot", "right_spot"});
    clicks[2].at = {(clicks[0].at.x_px + clicks[1].at.x_px) / 2.0,
                    (clicks[0].at.y_px + clicks[1].at.y_px) / 2.0};
    const Refusal refusal = refusal_of(clicks);
    CHECK(refusal.fault == FitFault::collinear);
    CHECK(says(refusal, "in the picture"));
}

TEST_CASE("repeated landmark and repeated spot") {
    const Refusal twice =
        refusal_of(clicks_on({"left_post", "right_post", "left_spot", "right_spot", "left_post"}));
    CHECK(twice.fault == FitFault::repeated);
    CHECK(says(twice, "left post, inside is clicked twice"));
    std::vector<LandmarkClick> clicks = clicks_on({"left_post", "right_post", "left_spot", "right_spot"});
    clicks[1].at = clicks[0].at;
    const Refusal spot = refusal_of(clicks);
    CHECK(spot.fault == FitFault::repeated);
    CHECK(says(spot, "same spot"));
}

TEST_CASE("mirrored labels") {
    for (const std::size_t count : {std::size_t{4}, std::size_t{8}}) {
        std::vector<LandmarkClick> clicks =
            count == 4 ? clicks_on({"left_post", "right_post", "left_spot", "right_spot"}) : clicks_on(eight);
        for (LandmarkClick& click : clicks)
            click.point.x_m = -click.point.x_m;
        const Refusal refusal = refusal_of(clicks);
        CHECK(refusal.fault == FitFault::mirrored);
        CHECK(says(refusal, "mirror"));
    }
}

TEST_CASE("two labels swapped") {
    std::vector<LandmarkClick> clicks = clicks_on(eight);
    std::swap(clicks[0].at, clicks[1].at);
    const Refusal refusal = refusal_of(clicks);
    CHECK(refusal.fault == FitFault::mirrored);
    CHECK(says(refusal, "left post, inside and right post, inside look swapped"));
}

TEST_CASE("one gross outlier among eight is named and left out") {
    std::vector<LandmarkClick> clicks = clicks_on(eight);
    clicks[0].at.x_px += 64.0;
    clicks[0].at.y_px -= 48.0;
    const RinkFit fit = fit_rink(clicks, camera.image);
    REQUIRE(fit.warnings.size() == 1);
    CHECK(fit.warnings[0] ==
          "left post, inside is 80 px from where the other seven put it; the fit leaves it out");
    CHECK(fit.residuals[0].x_px == doctest::Approx(64.0).epsilon(1e-4));
    CHECK(fit.rms_px < 1e-6);
}

TEST_CASE("one gross outlier among six is named and refused") {
    std::vector<LandmarkClick> clicks = clicks_on(
        {"left_post", "right_post", "left_circle_low", "left_spot", "right_spot", "right_circle_high"});
    clicks[3].at.y_px += 60.0;
    const Refusal refusal = refusal_of(clicks);
    CHECK(refusal.fault == FitFault::outlier);
    CHECK(says(refusal, "left spot, centre is 60 px from where the other five put it"));
}

TEST_CASE("one gross outlier among five cannot be found") {
    std::vector<LandmarkClick> clicks = clicks_on(eight);
    clicks.resize(5);
    clicks[3].at.y_px += 60.0;
    const Refusal refusal = refusal_of(clicks);
    CHECK(refusal.fault == FitFault::outlier);
    CHECK(says(refusal, "too few to tell which is wrong"));
}

TEST_CASE("four clicks that no camera sees") {
    std::vector<LandmarkClick> clicks = clicks_on({"left_post", "right_post", "left_spot", "right_spot"});
    std::swap(clicks[0].at, clicks[2].at); // the outline crosses itself
    CHECK(refusal_of(clicks).fault == FitFault::not_invertible);
}

TEST_CASE("numbers that are none") {
    std::vector<LandmarkClick> clicks = clicks_on(eight);
    clicks[2].at.x_px = std::numeric_limits<double>::quiet_NaN();
    CHECK(refusal_of(clicks).fault == FitFault::bad_number);
    clicks = clicks_on(eight);
    clicks[2].point.y_m = std::numeric_limits<double>::infinity();
    CHECK(refusal_of(clicks).fault == FitFault::bad_number);
    CHECK(refusal_of(clicks_on(eight), {0, 1080}).fault == FitFault::bad_number);
    CHECK_THROWS_AS(fit_rink(clicks_on(eight), camera.image, {.click_sigma_px = 0.0}), FitError);
}

TEST_CASE("a horizon that crosses the picture is warned of") {
    made::Camera level = camera;
    level.height_m = 6.0;
    level.looks_at = {0.0, -20.0};
    level.focal_px = 900.0; // 6 m down over 60 m: the horizon lies 90 px above the middle
    std::vector<LandmarkClick> clicks = clicks_on(eight);
    for (LandmarkClick& click : clicks)
        click.at = made::see(level, click.point);
    const RinkFit fit = fit_rink(clicks, level.image);
    REQUIRE(fit.warnings.size() == 1);
    CHECK(fit.warnings[0] == "the horizon of the ice crosses the picture; marks near it have no sure place");
    CHECK(fit_rink(clicks_on(eight), camera.image).warnings.empty());
}
