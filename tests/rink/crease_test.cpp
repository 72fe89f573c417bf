#include "rink/crease.h"
#include "rink/units.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace ropeline;

namespace {
const RuleBook& nhl = rule_book(RuleBookId::nhl);
const RuleBook& iihf = rule_book(RuleBookId::iihf);
const RuleBook& usa = rule_book(RuleBookId::usa_hockey);
} // namespace

// Worked by hand: NHL the ray to the spot (22, 20) ft leaves through the straight side, 4 x 29.732 / 22
// = 5.406 ft.
TEST_CASE("crease edge towards the end-zone spot") {
    CHECK(to_feet(crease_edge_m(nhl, {from_feet(22), from_feet(20)})) ==
          doctest::Approx(5.406).epsilon(1e-4));
    CHECK(crease_edge_m(iihf, {7.0, 6.0}) == doctest::Approx(1.800));
    CHECK(to_feet(crease_edge_m(usa, {from_feet(22), from_feet(20)})) == doctest::Approx(6.0));
}

TEST_CASE("crease edge straight out, along the goal line and behind it") {
    CHECK(crease_edge_m(nhl, {0.0, 3.0}) == doctest::Approx(1.8288));
    CHECK(crease_edge_m(nhl, {5.0, 0.0}) == doctest::Approx(1.2192));
    CHECK(crease_edge_m(nhl, {-5.0, -2.0}) == doctest::Approx(1.2192));
    CHECK(crease_edge_m(nhl, {0.0, -2.0}) == doctest::Approx(1.2192));
    CHECK(crease_edge_m(iihf, {5.0, -3.0}) == doctest::Approx(1.8));
    CHECK(crease_edge_m(nhl, {0.0, 0.0}) == doctest::Approx(1.8288)); // no direction: up-ice
}

TEST_CASE("crease edge depends on the angle only and is the same on both sides") {
    for (const RuleBook& book : rule_books()) {
        for (int degrees = 1; degrees < 180; ++degrees) {
            const double angle = to_radians(degrees);
            const IcePoint direction{std::cos(angle), std::sin(angle)};
            const double edge = crease_edge_m(book, direction);
            CHECK(crease_edge_m(book, direction * 17.0) == doctest::Approx(edge));
            CHECK(crease_edge_m(book, {-direction.x_m, direction.y_m}) == doctest::Approx(edge));
        }
    }
}

TEST_CASE("the outline lies on the crease edge") {
    for (const RuleBook& book : rule_books()) {
        CAPTURE(book.key);
        const std::vector<IcePoint> outline = crease_outline(book, 40);
        CHECK(outline.front().y_m == 0.0);
        CHECK(outline.back().y_m == 0.0);
        CHECK(outline.front().x_m == doctest::Approx(-outline.back().x_m));
        for (const IcePoint& point : outline)
            CHECK(length(point) == doctest::Approx(crease_edge_m(book, point)));
    }
}

// The arc stands sqrt(36 - 16) = 4.472 ft high where the sides, 4 ft out, meet it.
TEST_CASE("NHL crease corners stand where the arc meets the sides") {
    const std::vector<IcePoint> outline = crease_outline(nhl, 40);
    CHECK(outline[0].x_m == doctest::Approx(-1.2192));
    CHECK(outline[1].x_m == doctest::Approx(-1.2192));
    CHECK(outline[1].y_m == doctest::Approx(1.3631).epsilon(1e-4));
    CHECK(crease_outline(iihf, 40).size() == 41);
}
