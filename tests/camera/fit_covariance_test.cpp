#include "camera/made_camera.h"
#include "camera/plane_fit.h"
#include "camera/rink_fit.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using namespace ropeline;

namespace {

// Worked reference: seven landmarks in feet and pixels; landmark sigma 1.5 px. The fit is told feet as if
// they were metres: nothing in it knows the unit.
std::vector<LandmarkClick> worked_clicks() {
    return {{{551, 362}, {0, -3}, ""},  {{580, 344}, {0, 3}, ""},     {{642, 474}, {20, -22}, ""},
            {{820, 320}, {20, 22}, ""}, {{1226, 589}, {64, -20}, ""}, {{442, 429}, {0, -22}, ""},
            {{1252, 393}, {64, 20}, ""}};
}

} // namespace

// Computed twice when the design was written (least squares on image residuals, then a Monte Carlo of 20,000
// draws); formulae: Criminisi, Reid & Zisserman, BMVC 1997, and Hartley & Zisserman, chapter 5.
TEST_CASE("the worked covariance of a mapped point") {
    // Its axes are x up-ice, y to the left: ours turned by a quarter.
    const std::vector<LandmarkClick> clicks = worked_clicks();
    const RinkFit fit = fit_plane(clicks, {1280, 720}, {.click_sigma_px = 1.5});
    const Matrix3& h = fit.image_from_ice;
    const double expected[9]{6.495606817,   8.472641469,     565.853541169,  0.358954973, -0.719272287,
                             352.816160066, -0.003267572010, 0.006422820103, 1.0};
    for (std::size_t i = 0; i < 9; ++i)
        CHECK(h[i] == doctest::Approx(expected[i]).epsilon(1e-8));
    CHECK(fit.rms_px == doctest::Approx(0.131528).epsilon(1e-5));
    CHECK(fit.click_sigma_px == 1.5); // seven clicks are too few to overrule the stated sigma

    const ImagePoint at{606, 358};
    const auto ice = ice_at(fit, at);
    REQUIRE(ice.has_value());
    CHECK(std::abs(ice->x_m - 4.447462) < 1e-6);
    CHECK(std::abs(ice->y_m - 0.535074) < 1e-6);

    RinkFit certain = fit;
    certain.covariance.fill(0.0);
    const IceCovariance of_click = ice_covariance(certain, at, 1.0);
    CHECK(std::abs(of_click.xx - 0.0277116) < 1e-7);
    CHECK(std::abs(of_click.xy - -0.0315013) < 1e-7);
    CHECK(std::abs(of_click.yy - 0.0683070) < 1e-7);
    const IceCovariance of_fit = ice_covariance(fit, at, 0.0);
    CHECK(std::abs(of_fit.xx - 0.0155669) < 1e-7);
    CHECK(std::abs(of_fit.xy - -0.0158525) < 1e-7);
    CHECK(std::abs(of_fit.yy - 0.0365776) < 1e-7);
    const IceCovariance both = ice_covariance(fit, at, 1.0);
    CHECK(std::sqrt(both.xx) == doctest::Approx(0.208035).epsilon(1e-5));
    CHECK(std::sqrt(both.yy) == doctest::Approx(0.323859).epsilon(1e-5));

    const double ly = ice->y_m / length(*ice), lx = ice->x_m / length(*ice);
    const double of_length = std::sqrt(ly * ly * both.yy + 2 * lx * ly * both.xy + lx * lx * both.xx);
    CHECK(length(*ice) == doctest::Approx(4.479533).epsilon(1e-6));
    CHECK(of_length == doctest::Approx(0.181454).epsilon(1e-5));
}

TEST_CASE("marks of one fit share its error") {
    const made::Camera camera;
    std::vector<LandmarkClick> clicks;
    for (const char* name : {"left_post", "right_post", "left_spot", "right_spot", "crease_top"}) {
        const Landmark mark = find_landmark(rule_book(RuleBookId::nhl), name).value();
        clicks.push_back({made::see(camera, mark.at), mark.at, mark.label});
    }
    const RinkFit fit = fit_rink(clicks, camera.image);
    const ImagePoint goalie = made::see(camera, {0.3, 1.5});
    const std::vector<ImagePoint> twice{goalie, goalie};
    const std::vector<double> joint = joint_ice_covariance(fit, twice, 0.0);
    CHECK(joint[0 * 4 + 2] == doctest::Approx(joint[0]).epsilon(1e-9)); // the same place errs the same way
    CHECK(joint[1 * 4 + 3] == doctest::Approx(joint[5]).epsilon(1e-9));
    const std::vector<double> with_clicks = joint_ice_covariance(fit, twice, 1.0);
    CHECK(with_clicks[2] == doctest::Approx(joint[2]).epsilon(1e-9)); // clicks are made apart from each other
    CHECK(with_clicks[0] > joint[0]);
}

TEST_CASE("many clicks: the noise is estimated from the residuals") {
    const made::Camera camera;
    std::mt19937 random(5);
    std::normal_distribution<double> noise(0.0, 0.4);
    std::vector<LandmarkClick> clicks;
    for (const Landmark& mark : landmarks(rule_book(RuleBookId::nhl))) {
        if (mark.at.y_m < 0.0 || mark.at.y_m > 12.0) continue;
        const ImagePoint at = made::see(camera, mark.at);
        clicks.push_back({{at.x_px + noise(random), at.y_px + noise(random)}, mark.at, mark.label});
    }
    REQUIRE(clicks.size() > 30);
    const RinkFit fit = fit_rink(clicks, camera.image, {.click_sigma_px = 3.0});
    CHECK(fit.click_sigma_px == doctest::Approx(0.4).epsilon(0.25));
}
