#include "rink/rule_book.h"
#include "rink/units.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace ropeline;

namespace {
const RuleBook& nhl = rule_book(RuleBookId::nhl);
const RuleBook& iihf = rule_book(RuleBookId::iihf);
} // namespace

TEST_CASE("rule books are found by key and stand in the order of their ids") {
    REQUIRE(rule_books().size() == 5);
    for (const RuleBook& book : rule_books()) {
        CHECK(&rule_book(book.id) == &book);
        CHECK(rule_book_from_key(book.key) == book.id);
    }
    CHECK(rule_book_from_key("iihf") == RuleBookId::iihf);
    CHECK_FALSE(rule_book_from_key("NHL").has_value());
    CHECK_FALSE(rule_book_from_key("").has_value());
}

TEST_CASE("every length is positive and says where it stands") {
    for (const RuleBook& book : rule_books()) {
        CAPTURE(book.key);
        for (const RuleLength& length : {book.rink_length,
                                         book.rink_width,
                                         book.corner_radius,
                                         book.goal_line_to_boards,
                                         book.post_half_gap,
                                         book.post_diameter,
                                         book.net_height,
                                         book.net_depth,
                                         book.crease_radius,
                                         book.crease_half_width,
                                         book.crease_mark_depth,
                                         book.crease_mark_length,
                                         book.thin_line,
                                         book.wide_line,
                                         book.spot_from_goal_line,
                                         book.spot_from_axis,
                                         book.spot_diameter,
                                         book.circle_radius,
                                         book.centre_spot_diameter,
                                         book.hash_length,
                                         book.hash_gap,
                                         book.l_mark_along,
                                         book.l_mark_across,
                                         book.l_leg_along,
                                         book.l_leg_across,
                                         book.blue_line_centre,
                                         book.red_line_centre,
                                         book.neutral_spot_from_goal_line,
                                         book.neutral_spot_from_axis}) {
            CHECK(length.m > 0.0);
            CHECK_FALSE(length.source.empty());
        }
        CHECK(book.trapezoid_half_at_boards.has_value() == book.trapezoid_half_at_goal_line.has_value());
    }
}

// NHL official rules 1.2, 1.5, 1.7, 1.8; the remaining figures from memory.
TEST_CASE("NHL figures in feet and inches") {
    CHECK(to_feet(nhl.rink_length.m) == doctest::Approx(200.0));
    CHECK(to_feet(nhl.rink_width.m) == doctest::Approx(85.0));
    CHECK(to_feet(nhl.corner_radius.m) == doctest::Approx(28.0));
    CHECK(to_feet(nhl.goal_line_to_boards.m) == doctest::Approx(11.0));
    CHECK(nhl.post_half_gap.m == doctest::Approx(0.9144));
    CHECK(nhl.net_height.m == doctest::Approx(1.2192));
    CHECK(nhl.thin_line.m == doctest::Approx(0.0508));
    CHECK(nhl.wide_line.m == doctest::Approx(0.3048));
    CHECK(nhl.hash_gap.m == doctest::Approx(1.7018));
    CHECK(nhl.red_line_centre.m == doctest::Approx(27.1272));
}

// Equal areas of the restricted area before and after 2014, 253 and 275 square feet as published, have one
// solution: 11 ft deep, 28 ft at the boards.
TEST_CASE("NHL trapezoid agrees with its published area") {
    const double mean_width = to_feet(nhl.trapezoid_half_at_goal_line->m + nhl.trapezoid_half_at_boards->m);
    CHECK(mean_width * to_feet(nhl.goal_line_to_boards.m) == doctest::Approx(275.0));
    const RuleBook& before = rule_book(RuleBookId::nhl_to_2013);
    const double width_before =
        to_feet(before.trapezoid_half_at_goal_line->m + before.trapezoid_half_at_boards->m);
    CHECK(width_before * to_feet(before.goal_line_to_boards.m) == doctest::Approx(253.0));
    CHECK(before.hash_gap.m == doctest::Approx(0.9144)); // from memory
    CHECK(nhl.trapezoid_half_at_goal_line->m == doctest::Approx(nhl.crease_half_width.m + from_feet(7)));
    CHECK(nhl.crease_half_width.m - nhl.post_half_gap.m == doctest::Approx(from_feet(1)));
}

TEST_CASE("trapezoid feet lie on the straight end boards") {
    for (const RuleBook& book : rule_books()) {
        if (!book.trapezoid_half_at_boards) continue;
        CHECK(book.trapezoid_half_at_boards->m < book.rink_width.m / 2.0 - book.corner_radius.m);
    }
    CHECK(iihf.trapezoid_half_at_boards->m < 13.0 - 8.5); // on the narrow 26 m sheet too
}

// Swedish federation facility book 2022/23: 4 + 18.86 + 14.28 + 18.86 + 4 = 60 m; Finnish bulletin
// 2014: 22.86 m from the end boards to the centre of the blue line.
TEST_CASE("IIHF lengths add up to the sheet") {
    const double between_blue_lines = 2.0 * (iihf.red_line_centre.m - iihf.blue_line_centre.m);
    CHECK(between_blue_lines == doctest::Approx(14.28));
    CHECK(2.0 * (iihf.goal_line_to_boards.m + iihf.blue_line_centre.m) + between_blue_lines ==
          doctest::Approx(60.0));
    CHECK(iihf.goal_line_to_boards.m + iihf.blue_line_centre.m == doctest::Approx(from_feet(75)));
    CHECK(iihf.neutral_spot_from_goal_line.m - iihf.blue_line_centre.m == doctest::Approx(1.5));
}

TEST_CASE("NHL blue line: 64 ft reaches the neutral-zone edge, so that 50 ft remain between the two") {
    const double far_edge = nhl.blue_line_centre.m + nhl.wide_line.m / 2.0;
    CHECK(to_feet(far_edge) == doctest::Approx(64.0));
    CHECK(to_feet(2.0 * (nhl.red_line_centre.m - far_edge)) == doctest::Approx(50.0));
}

TEST_CASE("the red line halves every sheet") {
    for (const RuleBook& book : rule_books()) {
        CAPTURE(book.key);
        CHECK(2.0 * (book.red_line_centre.m + book.goal_line_to_boards.m) ==
              doctest::Approx(book.rink_length.m));
    }
}
