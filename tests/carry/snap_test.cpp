#include "camera/snap.h"
#include "carry/filmed.h"
#include "demo/filming.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace ropeline;

namespace {

const RuleBook& rules = rule_book(demo::demo_rules);

double worst_error_px(const RinkFit& fit, const demo::PinholeCamera& camera) {
    double worst = 0.0;
    for (const Landmark& mark : landmarks(rules)) {
        const ImagePoint truth =
            demo::project(camera, demo::axes(camera), {mark.at.x_m, mark.at.y_m, 0.0}).at;
        if (truth.x_px < 0 || truth.y_px < 0 || truth.x_px > camera.size.width_px ||
            truth.y_px > camera.size.height_px)
            continue;
        const auto seen = image_at(fit, mark.at);
        if (seen) worst = std::max(worst, std::hypot(seen->x_px - truth.x_px, seen->y_px - truth.y_px));
    }
    return worst;
}

const FilmedShot& still() {
    static const FilmedShot shot(
        {20.0, 18.0, 13.0},
        [](double) {
            return Aim{{0.4, 7.0}, 1300.0};
        },
        1, 400);
    return shot;
}

} // namespace

TEST_CASE("a rough fit snaps onto the painted lines") {
    const demo::Canvas picture = still().picture(0);
    for (unsigned seed = 1; seed <= 5; ++seed) {
        const RinkFit rough = clicked_fit(still().camera(0), 3.0, seed);
        std::string why_not;
        const auto snapped = snap_to_paint(rough, rules, view_of(picture), why_not);
        CAPTURE(why_not);
        REQUIRE(snapped.has_value());
        CHECK(snapped->after_px < snapped->before_px);
        const double before = worst_error_px(rough, still().camera(0)),
                     after = worst_error_px(snapped->fit, still().camera(0));
        MESSAGE("worst landmark " << before << " px before, " << after << " px after; lines "
                                  << snapped->before_px << " -> " << snapped->after_px);
        CHECK(after < 0.8);
    }
}

TEST_CASE("no paint, no snap") {
    const demo::Canvas white = [] {
        demo::Canvas canvas(still().camera(0).size);
        for (std::uint8_t& value : canvas.rgb)
            value = 235;
        return canvas;
    }();
    std::string why_not;
    CHECK_FALSE(
        snap_to_paint(clicked_fit(still().camera(0), 1.0), rules, view_of(white), why_not).has_value());
    CHECK(why_not.find("stretches of painted line were found") != std::string::npos);
}

TEST_CASE("a fit that would walk away is left where it is") {
    RinkFit off = clicked_fit(still().camera(0), 0.0);
    off.covariance.fill(0.0); // claims to be exact, yet lies 20 px beside the paint
    for (std::size_t i = 0; i < 3; ++i)
        off.image_from_ice[i] += 20.0 * off.image_from_ice[6 + i];
    std::string why_not;
    const demo::Canvas picture = still().picture(0);
    const auto snapped = snap_to_paint(off, rules, view_of(picture), why_not);
    if (snapped)
        CHECK(worst_error_px(snapped->fit, still().camera(0)) < 1.0);
    else
        CHECK_FALSE(why_not.empty());
}
