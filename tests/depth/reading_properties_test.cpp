#include "depth/any_play.h"
#include "depth/reading.h"
#include "depth/usual.h"
#include "rink/units.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>

using namespace ropeline;
using namespace ropeline::any;
using namespace ropeline::usual;

namespace {

IcePoint mirrored(IcePoint at) {
    return {-at.x_m, at.y_m};
}

const RuleBook& any_rules() {
    return rule_books()[static_cast<std::size_t>(*rc::gen::inRange(0, 4))];
}

bool close(double a, double b) {
    return std::abs(a - b) <= 1e-9 * (1.0 + std::abs(a) + std::abs(b));
}

} // namespace

TEST_CASE("a mirrored moment reads the same with signs turned") {
    CHECK(rc::check([] {
        const RuleBook& rules = any_rules();
        const IcePoint puck = anywhere(), left = anywhere(), right = anywhere();
        RC_PRE(puck.x_m != 0.0);
        const Reading one = read_moment(stance_from_skates(left, right), puck, rules, senior);
        const Reading other =
            read_moment(stance_from_skates(mirrored(right), mirrored(left)), mirrored(puck), rules, senior);
        RC_ASSERT(close(one.depth_m, other.depth_m));
        RC_ASSERT(close(one.off_angle_m, -other.off_angle_m));
        RC_ASSERT(close(one.crease_edge_m, other.crease_edge_m));
        RC_ASSERT(one.band == other.band);
        RC_ASSERT(one.square_error_rad.has_value() == other.square_error_rad.has_value());
        if (one.square_error_rad && std::abs(*one.square_error_rad) < 3.1) {
            RC_ASSERT(close(*one.square_error_rad, -*other.square_error_rad));
        }
        RC_ASSERT(one.coverage.has_value() == other.coverage.has_value());
        if (one.coverage) {
            RC_ASSERT(close(one.coverage->covered, other.coverage->covered));
            RC_ASSERT(close(one.coverage->net_seen, other.coverage->net_seen));
            RC_ASSERT(close(one.coverage->short_side.angle_rad, other.coverage->short_side.angle_rad));
            RC_ASSERT(close(one.coverage->far_side.goal_line_m, other.coverage->far_side.goal_line_m));
        }
    }));
}

TEST_CASE("coming out on the puck line covers more") {
    CHECK(rc::check([] {
        const IcePoint puck{between(-10.0, 10.0), between(3.0, 18.0)};
        const double far = length(puck);
        const double nearer = between(0.0, far - 0.2), farther = between(nearer, far - 0.1);
        const RuleBook& rules = any_rules();
        const double small =
            read_moment(stance_from_mark(puck_line(puck) * nearer), puck, rules, senior).coverage->covered;
        const double large =
            read_moment(stance_from_mark(puck_line(puck) * farther), puck, rules, senior).coverage->covered;
        RC_ASSERT(large >= small - 1e-12);
    }));
}

TEST_CASE("shares and angles stay in range") {
    CHECK(rc::check([] {
        const IcePoint puck = anywhere(), left = anywhere(), right = anywhere();
        const Reading reading = read_moment(stance_from_skates(left, right), puck, any_rules(), senior);
        RC_ASSERT(reading.coverage.has_value() == (puck.y_m > 0.0));
        RC_ASSERT(close(std::hypot(reading.depth_m, reading.off_angle_m), length((left + right) * 0.5)));
        if (!reading.coverage) return;
        const Coverage& coverage = *reading.coverage;
        RC_ASSERT(coverage.net_angle_rad > 0.0 && coverage.net_angle_rad < pi);
        RC_ASSERT(coverage.covered >= 0.0 && coverage.covered <= 1.0);
        RC_ASSERT(coverage.net_seen >= 0.0 && coverage.net_seen <= 1.0);
        RC_ASSERT(coverage.short_side.angle_rad >= 0.0 && coverage.far_side.angle_rad >= 0.0);
        RC_ASSERT(close(coverage.covered * coverage.net_angle_rad + coverage.short_side.angle_rad +
                            coverage.far_side.angle_rad,
                        coverage.net_angle_rad));
    }));
}

TEST_CASE("a taller or wider block never shows more net") {
    CHECK(rc::check([] {
        const IcePoint puck{between(-10.0, 10.0), between(0.5, 18.0)};
        const Stance stance = stance_from_mark({between(-1.5, 1.5), between(0.0, 3.0)});
        Parameters small = senior, large = senior;
        small.block_width_m = between(0.3, 1.0);
        large.block_width_m = small.block_width_m + between(0.0, 0.5);
        small.block_height_m = between(0.3, 1.2);
        large.block_height_m = small.block_height_m + between(0.0, 0.5);
        const RuleBook& rules = any_rules();
        const Reading one = read_moment(stance, puck, rules, small);
        const Reading more = read_moment(stance, puck, rules, large);
        RC_ASSERT(more.coverage->net_seen <= one.coverage->net_seen + 1e-12);
        RC_ASSERT(more.coverage->covered >= one.coverage->covered - 1e-12);
    }));
}
