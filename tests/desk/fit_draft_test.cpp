#include "desk/state/fit_draft.h"

#include "camera/made_camera.h"
#include "rink/curves.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace ropeline;

namespace {

const made::Camera in_the_stands{.x_m = 4.0,
                                 .y_m = 42.0,
                                 .height_m = 14.0,
                                 .looks_at = {0.0, 8.0},
                                 .focal_px = 1000.0,
                                 .image = {1280, 720}};

ImagePoint seen(IcePoint at) {
    return made::see(in_the_stands, at);
}

bool in_sight(ImagePoint at) {
    return at.x_px > 0.0 && at.y_px > 0.0 && at.x_px < 1280.0 && at.y_px < 720.0;
}

bool ice_is_clicked(const FitDraft& draft, IcePoint at) {
    const ImagePoint there = seen(at);
    return std::ranges::any_of(draft.clicks, [&](const StoredLandmark& click) {
        return std::hypot(click.at.x_px - there.x_px, click.at.y_px - there.y_px) < 20.0;
    });
}

/// A place of the landmark or on the curve of that name, in the picture.
IcePoint place_of(const FitDraft& draft, const std::string& name) {
    const RuleBook& rules = rule_book(draft.rules);
    if (const auto landmark = find_landmark(rules, name)) return landmark->at;
    for (const IcePoint at : places_along(find_curve(rules, name).value(), 0.37)) {
        if (!ice_is_clicked(draft, at) && in_sight(seen(at))) return at;
    }
    FAIL("no place of " << name << " is in sight");
    return {};
}

FitDraft begun() {
    FitDraft draft;
    draft.image = {1280, 720};
    return with_other_offer(refitted(draft));
}

} // namespace

TEST_CASE("four clicks carry a fit; each click offers the next landmark") {
    FitDraft draft = begun();
    CHECK(draft.trouble == "4 more landmarks to click. Two clicks on lines stand for one.");
    for (int click = 0; click < 6; ++click) {
        REQUIRE_FALSE(draft.offered.empty());
        const std::string offered = draft.offered;
        CHECK(draft.fit.has_value() == (click >= 4));
        draft = with_click(draft, seen(place_of(draft, offered)));
        if (click < 4) CHECK(draft.offered != offered);
    }
    REQUIRE(draft.fit);
    CHECK(draft.fit->rms_px < 1e-6);
    const auto place = ice_at(*draft.fit, seen({2.0, 5.0}));
    REQUIRE(place);
    CHECK(place->x_m == doctest::Approx(2.0).epsilon(1e-6));
    CHECK(place->y_m == doctest::Approx(5.0).epsilon(1e-6));
}

TEST_CASE("a click that is moved or dropped changes the fit; dropping offers that landmark again") {
    FitDraft draft = begun();
    for (int click = 0; click < 6; ++click) {
        draft = with_click(draft, seen(place_of(draft, draft.offered)));
    }
    ImagePoint off = draft.clicks[2].at;
    off.x_px += 9.0;
    const FitDraft moved = with_moved_click(draft, 2, off);
    REQUIRE(moved.fit);
    const IcePoint there = draft.clicks[2].point.value();
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

TEST_CASE(
    "on a film whose camera is known three landmarks are enough, and clicks it does not see so are told") {
    FitDraft other = begun();
    for (const char* name :
         {"left_post", "right_post", "left_spot", "right_spot", "left_circle_high", "right_circle_high"})
        other = with_click(with_offer(other, name), seen(find_landmark(rule_book(other.rules), name)->at));
    REQUIRE(other.fit);
    FitDraft draft = begun();
    const ClickedView view{clicks_of(other.rules, other.clicks), *other.fit};
    draft.cameras = film_cameras(std::span{&view, 1});
    REQUIRE(draft.cameras.size() == 1);
    made::Camera turned = in_the_stands;
    turned.looks_at = {1.5, 8.0};
    turned.focal_px *= 1.2;
    const auto seen_now = [&](IcePoint at) { return made::see(turned, at); };
    draft = refitted(std::move(draft));
    CHECK(draft.trouble == "3 more landmarks to click. Two clicks on lines stand for one.");
    const FitDraft empty = draft;
    for (const char* name : {"left_post", "right_post", "right_spot"})
        draft =
            with_click(with_offer(draft, name), seen_now(find_landmark(rule_book(draft.rules), name)->at));
    REQUIRE(draft.fit);
    CHECK(draft.trouble.empty());
    const auto place = ice_at(*draft.fit, seen_now({1.0, 3.0}));
    REQUIRE(place);
    CHECK(distance(*place, {1.0, 3.0}) < 0.05);
    CHECK(draft.rests_on == FitRestsOn::clicks_and_camera);
    CHECK(quality_of(*draft.fit, draft.rests_on)
              .words.find("3 clicks and the film's other fits agree within 0.0 px") != std::string::npos);

    FitDraft elsewhere = empty;
    for (const auto& [name, at] :
         {std::pair{"left_post", ImagePoint{100.0, 600.0}}, std::pair{"right_post", ImagePoint{1200.0, 80.0}},
          std::pair{"right_spot", ImagePoint{60.0, 40.0}}})
        elsewhere = with_click(with_offer(elsewhere, name), at);
    CHECK_FALSE(elsewhere.fit);
    CHECK(elsewhere.trouble.starts_with(
        "The camera of the film's other fits does not see these clicks so. 1 more"));
}

TEST_CASE("clicks anywhere on a line count as half a landmark each, and the fit is as good") {
    FitDraft draft = begun();
    for (const char* name : {"left_post", "right_post", "left_spot"})
        draft = with_click(with_offer(draft, name), seen(place_of(draft, name)));
    CHECK(draft.trouble == "1 more landmark to click. Two clicks on lines stand for one.");
    draft = with_click(with_offer(draft, "blue_line"), seen({-5.0, 19.3548}));
    CHECK_FALSE(draft.fit);
    draft = with_click(with_offer(draft, "blue_line"), seen({4.0, 19.3548}));
    REQUIRE(draft.fit);
    CHECK(quality_of(*draft.fit).words.starts_with("unchecked"));
    draft = with_click(with_offer(draft, "right_circle"), seen(place_of(draft, "right_circle")));
    draft = with_click(with_offer(draft, "left_circle"), seen(place_of(draft, "left_circle")));
    REQUIRE(draft.fit);
    CHECK(clicks_on(draft, "blue_line") == 2);
    CHECK(clicks_on(draft, "right_circle") == 1);
    CHECK(clicks_on(draft, "goal_line") == 0);
    CHECK_FALSE(draft.clicks.back().point);
    CHECK(quality_of(*draft.fit).words.find("7 clicks agree within 0.0 px") != std::string::npos);
    const auto place = ice_at(*draft.fit, seen({2.0, 5.0}));
    REQUIRE(place);
    CHECK(distance(*place, {2.0, 5.0}) < 1e-4);
}

TEST_CASE("an arrow goes to the nearest place of the curve, and each click has its own") {
    FitDraft draft = begun();
    for (const char* name :
         {"left_post", "left_spot", "right_spot", "crease_top", "right_post", "left_circle_high"})
        draft = with_click(with_offer(draft, name), seen(place_of(draft, name)));
    draft = with_click(with_offer(draft, "blue_line"), seen({1.0, 19.3548}));
    draft = with_click(with_offer(draft, "right_circle_high"), seen(place_of(draft, "right_circle_high")));
    draft = with_moved_click(draft, 6, {draft.clicks[6].at.x_px, draft.clicks[6].at.y_px + 5.0});
    REQUIRE(draft.fit);
    const ImagePoint off = residual_of(draft, 6).value();
    CHECK(off.y_px > 0.2);
    const ImagePoint on_line{draft.clicks[6].at.x_px - off.x_px, draft.clicks[6].at.y_px - off.y_px};
    CHECK(ice_at(*draft.fit, on_line)->y_m == doctest::Approx(19.3548).epsilon(1e-3));
    for (const std::size_t landmark : {0, 5, 7}) {
        const StoredLandmark& click = draft.clicks[landmark];
        const ImagePoint to = image_at(*draft.fit, click.point.value()).value();
        CHECK(residual_of(draft, landmark)->x_px == doctest::Approx(click.at.x_px - to.x_px));
        CHECK(residual_of(draft, landmark)->y_px == doctest::Approx(click.at.y_px - to.y_px));
    }
    CHECK_FALSE(residual_of(draft, 99));
}

TEST_CASE("a click far off its curve is named, left out, and its arrow still ends on the curve") {
    FitDraft draft = begun();
    for (const char* name : {"left_post", "left_spot", "right_spot", "crease_top", "right_post",
                             "left_circle_high", "right_circle_high", "left_circle_low"})
        draft = with_click(with_offer(draft, name), seen(place_of(draft, name)));
    const ImagePoint on_line = seen({1.0, 19.3548});
    draft = with_click(with_offer(draft, "blue_line"), {on_line.x_px, on_line.y_px + 60.0});
    REQUIRE(draft.fit);
    REQUIRE(draft.fit->warnings.size() == 1);
    CHECK(draft.fit->warnings[0].find("the click on the blue line, middle") != std::string::npos);
    CHECK(quality_of(*draft.fit).words.find("8 of 9 clicks agree") != std::string::npos);
    const ImagePoint off = residual_of(draft, 8).value();
    const ImagePoint end{draft.clicks[8].at.x_px - off.x_px, draft.clicks[8].at.y_px - off.y_px};
    CHECK(ice_at(*draft.fit, end)->y_m == doctest::Approx(19.3548).epsilon(1e-3));
}

TEST_CASE("on the plan a landmark is picked near it, else the curve, else nothing") {
    const FitDraft draft = begun();
    PlanView plan;
    plan.panel = {100.0F, 50.0F, 544.0F, 496.0F};
    constexpr float unit = 18.0F;
    const auto picked = [&](IcePoint at) { return pick_on_plan(draft, plan, plan.to_screen(at), unit); };
    CHECK(picked({-6.7, 6.1}) == "left_spot");
    CHECK(picked({2.0, 19.2}) == "blue_line");
    CHECK(picked({5.0, 0.1}) == "goal_line");
    CHECK(picked({-12.9, 9.0}) == "boards");
    CHECK(picked({0.0, 12.0}) == std::nullopt);
    CHECK(pick_on_plan(draft, plan, {10.0F, 10.0F}, unit) == std::nullopt);
    const IcePoint spot = find_landmark(rule_book(draft.rules), "right_spot")->at;
    CHECK(picked(spot + IcePoint{4.572 * 0.8, 4.572 * 0.6}) == "right_circle");
}

TEST_CASE("X walks what is in the picture, most useful first, lines among it, and comes round again") {
    FitDraft draft = begun();
    for (const char* name :
         {"left_spot", "right_spot", "left_circle_high", "right_circle_high", "crease_top"})
        draft = with_click(with_offer(draft, name), seen(place_of(draft, name)));
    REQUIRE(draft.fit);
    const std::string first = draft.offered;
    CHECK(offer_words(draft, LengthUnit::metres).starts_with("takes the depth from ±"));
    CHECK(offer_words(draft, LengthUnit::metres).ends_with(" cm"));
    CHECK(offer_words(draft, LengthUnit::feet).ends_with(" in"));
    CHECK(words_of({FitQuality::Grade::fair, "fair: 7 clicks", 0.0254, "click wider"}, LengthUnit::metres) ==
          "fair: 7 clicks, a depth to ± 2.5 cm; click wider");
    CHECK(words_of({FitQuality::Grade::fair, "fair: 7 clicks", 0.0254, {}}, LengthUnit::feet) ==
          "fair: 7 clicks, a depth to ± 1.00 in");
    CHECK(
        offer_words(without_click(draft, 0), LengthUnit::metres).empty()); // told of what is offered, no more
    std::vector<std::string> walked;
    do {
        walked.push_back(draft.offered);
        draft = with_other_offer(draft);
        REQUIRE(walked.size() < 100);
    } while (draft.offered != first);
    CHECK(walked.size() > 10);
    CHECK(std::ranges::find(walked, "blue_line") != walked.end());
    CHECK(std::ranges::find(walked, "crease_top") == walked.end());
    for (const std::string& name : walked)
        CHECK(std::ranges::count(walked, name) == 1);
}

TEST_CASE("clicks that agree but leave the depth unsure do not make a good fit") {
    FitDraft draft = begun();
    for (const char* name : {"left_blue_line_low", "right_blue_line_low", "left_circle_high",
                             "right_circle_high", "left_circle_outer"})
        draft = with_click(with_offer(draft, name), seen(place_of(draft, name)));
    REQUIRE(draft.fit);
    CHECK(draft.fit->rms_px < 0.1);
    CHECK(quality_of(*draft.fit).grade != FitQuality::Grade::good);
}

TEST_CASE("clicks with left and right swapped are known for that; swapped back they give the fit") {
    FitDraft draft;
    draft.image = {1280, 720};
    for (const char* name : {"left_post", "right_post", "left_spot", "right_spot", "left_inner_hash_high",
                             "right_outer_hash_high"}) {
        const std::string wrong = std::string{name}.starts_with("left_")
                                      ? "right_" + std::string{name}.substr(5)
                                      : "left_" + std::string{name}.substr(6);
        const auto clicked = find_landmark(rule_book(draft.rules), name);
        const auto taken_for = find_landmark(rule_book(draft.rules), wrong);
        draft.clicks.push_back({wrong, seen(clicked->at), taken_for->at});
    }
    draft = refitted(draft);
    CHECK_FALSE(draft.fit);
    CHECK(draft.mirrored);
    CHECK(draft.trouble.find("mirror") != std::string::npos);
    draft = with_sides_swapped(draft);
    CHECK_FALSE(draft.mirrored);
    REQUIRE(draft.fit);
    CHECK(draft.clicks[0].name == "left_post");
    CHECK(draft.fit->rms_px < 0.5);
}

TEST_CASE("what no paint shows is never offered, before a fit or with one") {
    FitDraft draft;
    draft.image = {1280, 720};
    for (int click = 0; click < 9; ++click) {
        for (int offer = 0; offer < 40; ++offer) {
            draft = with_other_offer(draft);
            const auto landmark = find_landmark(rule_book(draft.rules), draft.offered);
            CHECK((!landmark || landmark->marked));
        }
        draft = with_best_offer(draft);
        while (!find_landmark(rule_book(draft.rules), draft.offered))
            draft = with_other_offer(draft);
        draft = with_click(draft, seen(find_landmark(rule_book(draft.rules), draft.offered)->at));
    }
    REQUIRE(draft.fit);
}
