#include "rink/crease.h"
#include "rink/curves.h"
#include "rink/landmarks.h"
#include "rink/paint.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace ropeline;

TEST_CASE("landmarks lie on the curves they belong to") {
    for (const RuleBook& book : rule_books()) {
        CAPTURE(book.key);
        const auto off = [&](const char* mark, const char* curve) {
            return distance_m(find_curve(book, curve).value(), find_landmark(book, mark).value().at);
        };
        CHECK(off("left_post", "goal_line") < 1e-12);
        CHECK(off("right_goal_line_end", "goal_line") < 1e-12);
        CHECK(off("right_goal_line_end", "boards") < 1e-9);
        if (book.trapezoid_half_at_boards) CHECK(off("left_trapezoid_end", "boards") < 1e-9);
        CHECK(off("crease_top", "crease") < 1e-12);
        CHECK(off("left_crease_mark", "crease") < 1e-9);
        CHECK(off("left_circle_low", "left_circle") < 1e-12);
        CHECK(off("right_inner_hash_low", "right_circle") < 1e-12);
        CHECK(off("left_blue_line_low", "blue_line") == doctest::Approx(book.wide_line.m / 2.0));
        CHECK(off("centre_spot", "red_line") < 1e-12);
        CHECK(off("left_centre_circle_side", "centre_circle") < 1e-12);
        CHECK(off("left_spot", "left_circle") == doctest::Approx(book.circle_radius.m));
    }
}

TEST_CASE("the outlines for drawing lie on the curves") {
    for (const RuleBook& book : rule_books()) {
        const IceCurve crease = find_curve(book, "crease").value();
        for (const IcePoint point : crease_outline(book))
            CHECK(distance_m(crease, point) < 1e-9);
        const std::vector<PaintLine> paint = rink_paint(book);
        const PaintLine& drawn = *std::ranges::find(paint, PaintKind::boards, &PaintLine::kind);
        const IceCurve boards = find_curve(book, "boards").value();
        for (const IcePoint point : drawn.points)
            CHECK(distance_m(boards, point) < 1e-9);
    }
}

TEST_CASE("beyond the end of a piece the distance is to its end") {
    const IceCurve line = find_curve(rule_book(RuleBookId::nhl), "blue_line").value();
    CHECK(distance_m(line, {12.954 + 3.0, 19.3548 + 4.0}) == doctest::Approx(5.0));
    const IceCurve crease = find_curve(rule_book(RuleBookId::usa_hockey), "crease").value();
    CHECK(distance_m(crease, {1.8288, -2.0}) == doctest::Approx(2.0));
    CHECK_FALSE(find_curve(rule_book(RuleBookId::nhl), "penalty_bench").has_value());
}

TEST_CASE("a curve as a polyline lies on the curve, as dense as asked, from end to end") {
    for (const RuleBook& book : rule_books()) {
        for (const IceCurve& curve : ice_curves(book)) {
            CAPTURE(curve.name);
            const std::vector<IcePoint> places = places_along(curve, 0.4);
            CHECK(distance(places.front(), curve.pieces.front().from) < 1e-9);
            CHECK(distance(places.back(), curve.pieces.back().to) < 1e-9);
            for (std::size_t i = 0; i < places.size(); ++i) {
                CHECK(distance_m(curve, places[i]) < 1e-9);
                if (i > 0) CHECK(distance(places[i - 1], places[i]) < 0.4 + 1e-9);
            }
        }
    }
}
