#include "desk/state/fit_draft.h"

#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace ropeline;

namespace {

/// A camera high in the stands: any homography with the rink in front will do.
ImagePoint seen(IcePoint at) {
    const double w = 0.0012 * at.x_m - 0.012 * at.y_m + 1.0;
    return {(640.0 + 38.0 * at.x_m + 4.0 * at.y_m) / w, (520.0 - 1.5 * at.x_m - 26.0 * at.y_m) / w};
}

FitDraft begun() {
    FitDraft draft;
    draft.image = {1280, 720};
    return with_other_offer(refitted(draft));
}

} // namespace

TEST_CASE("four clicks carry a fit; each click offers the next landmark") {
    FitDraft draft = begun();
    CHECK(draft.trouble == "4 more landmarks to click.");
    for (int click = 0; click < 6; ++click) {
        REQUIRE_FALSE(draft.offered.empty());
        const std::string offered = draft.offered;
        CHECK(draft.fit.has_value() == (click >= 4));
        draft = with_click(draft, seen(find_landmark(rule_book(draft.rules), offered)->at));
        CHECK(draft.offered != offered);
    }
    REQUIRE(draft.fit);
    CHECK(draft.fit->rms_px < 1e-6);
    const auto place = ice_at(*draft.fit, seen({2.0, 5.0}));
    REQUIRE(place);
    CHECK(place->x_m == doctest::Approx(2.0).epsilon(1e-6));
    CHECK(place->y_m == doctest::Approx(5.0).epsilon(1e-6));
    CHECK(quality_of(*draft.fit, 6).grade == FitQuality::Grade::good);
    CHECK(quality_of(*draft.fit, 4).grade == FitQuality::Grade::poor);
}

TEST_CASE("a click that is moved or dropped changes the fit; dropping offers that landmark again") {
    FitDraft draft = begun();
    for (int click = 0; click < 6; ++click) {
        draft = with_click(draft, seen(find_landmark(rule_book(draft.rules), draft.offered)->at));
    }
    ImagePoint off = draft.clicks[2].at;
    off.x_px += 9.0;
    const FitDraft moved = with_moved_click(draft, 2, off);
    REQUIRE(moved.fit);
    const IcePoint there = draft.clicks[2].point;
    CHECK(distance(*ice_at(*moved.fit, seen(there)), there) > 0.05);
    CHECK(distance(*ice_at(*draft.fit, seen(there)), there) < 1e-6);
    const FitDraft less = without_click(draft, 2);
    CHECK(less.clicks.size() == 5);
    CHECK(less.offered == draft.clicks[2].name);
    CHECK(with_moved_click(draft, 99, off).clicks.size() == 6);
    CHECK(without_click(draft, 99).clicks.size() == 6);
}

TEST_CASE("clicks that cannot carry a fit say why in one line") {
    FitDraft draft = begun();
    for (const char* name : {"left_post", "right_post", "left_crease_foot", "right_crease_foot"}) {
        draft = with_click(with_offer(draft, name), seen(find_landmark(rule_book(draft.rules), name)->at));
    }
    CHECK_FALSE(draft.fit.has_value());
    CHECK_FALSE(draft.trouble.empty());
    CHECK(draft.trouble.find('\n') == std::string::npos);
}
