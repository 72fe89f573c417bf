#include "rink/landmarks.h"
#include "rink/paint.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace ropeline;

namespace {

long count(const std::vector<PaintLine>& lines, PaintKind kind) {
    return std::ranges::count(lines, kind, &PaintLine::kind);
}

double nearest_m(const std::vector<PaintLine>& lines, PaintKind kind, IcePoint to) {
    double least = std::numeric_limits<double>::infinity();
    for (const PaintLine& line : lines) {
        if (line.kind != kind) continue;
        for (const IcePoint& point : line.points)
            least = std::min(least, distance(point, to));
    }
    return least;
}

} // namespace

TEST_CASE("both ends are painted") {
    for (const RuleBook& book : rule_books()) {
        CAPTURE(book.key);
        const std::vector<PaintLine> lines = rink_paint(book);
        CHECK(count(lines, PaintKind::goal_line) == 2);
        CHECK(count(lines, PaintKind::blue_line) == 2);
        CHECK(count(lines, PaintKind::red_line) == 1);
        CHECK(count(lines, PaintKind::circle) == 5);
        CHECK(count(lines, PaintKind::spot) == 9);
        CHECK(count(lines, PaintKind::hash) == 16);
        CHECK(count(lines, PaintKind::l_mark) == 16);
        CHECK(count(lines, PaintKind::crease) == 6); // two creases with two marks each
        CHECK(count(lines, PaintKind::trapezoid) == (book.trapezoid_half_at_boards ? 4 : 0));
        CHECK(count(lines, PaintKind::boards) == 1);
        CHECK(count(lines, PaintKind::net) == 2);
    }
}

TEST_CASE("no paint lies outside the boards") {
    for (const RuleBook& book : rule_books()) {
        const double side = book.rink_width.m / 2.0 + 1e-9;
        const double low = -book.goal_line_to_boards.m - 1e-9;
        for (const PaintLine& line : rink_paint(book)) {
            for (const IcePoint& point : line.points) {
                CHECK(std::abs(point.x_m) <= side);
                CHECK(point.y_m >= low);
                CHECK(point.y_m <= low + book.rink_length.m + 2e-9);
            }
        }
    }
}

TEST_CASE("landmarks lie on the paint they name") {
    for (const RuleBook& book : rule_books()) {
        CAPTURE(book.key);
        const std::vector<PaintLine> lines = rink_paint(book);
        const double half_line =
            book.thin_line.m / 2.0 + 0.01; // the polyline's chords cut the circle by under 1 cm
        const auto near = [&](std::string_view name, PaintKind kind) {
            return nearest_m(lines, kind, find_landmark(book, name).value().at);
        };
        CHECK(near("left_circle_low", PaintKind::circle) < half_line);
        CHECK(near("crease_top", PaintKind::crease) < half_line);
        CHECK(near("left_crease_foot", PaintKind::crease) < half_line);
        CHECK(near("right_inner_hash_low_tip", PaintKind::hash) < 1e-9);
        CHECK(near("right_outer_l_high", PaintKind::l_mark) < 1e-9);
        CHECK(near("left_goal_line_end", PaintKind::goal_line) < 1e-9);
        CHECK(near("left_post", PaintKind::net) == doctest::Approx(book.post_diameter.m / 2.0));
    }
}

// L mark of the end-zone spot, slot side, goal side: legs of 4 ft along the rink and 2 ft 10 in across (from
// memory).
TEST_CASE("NHL L marks reach as far as the rules say") {
    const std::vector<PaintLine> lines = rink_paint(rule_book(RuleBookId::nhl));
    CHECK(nearest_m(lines, PaintKind::l_mark, {6.4770, 4.2672}) < 1e-4);
    CHECK(nearest_m(lines, PaintKind::l_mark, {5.6134, 5.4864}) < 1e-4);
}

TEST_CASE("the boards are closed, round in the corners, and the goal line ends on them") {
    for (const RuleBook& book : rule_books()) {
        const std::vector<PaintLine> lines = rink_paint(book);
        const PaintLine& boards = *std::ranges::find(lines, PaintKind::boards, &PaintLine::kind);
        CHECK(boards.points.front() == boards.points.back());
        const IcePoint end = find_landmark(book, "right_goal_line_end")->at;
        const IcePoint corner_centre{book.rink_width.m / 2.0 - book.corner_radius.m,
                                     book.corner_radius.m - book.goal_line_to_boards.m};
        CHECK(distance(end, corner_centre) == doctest::Approx(book.corner_radius.m));
        CHECK(end.x_m < book.rink_width.m / 2.0 - 0.5); // well short of the side boards
    }
}
