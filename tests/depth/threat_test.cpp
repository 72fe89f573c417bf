// Passes: the worked table of spot-to-spot passes, the closed form of the furthest depth against a search,
// the corners.
#include "depth/threat.h"
#include "depth/verdict.h"
#include "rink/units.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <tuple>
#include <utility>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);
const Parameters senior = parameters_for(Level::senior);

IcePoint feet(double x, double y) {
    return {from_feet(x), from_feet(y)};
}

/// Same to half a unit of the fourth significant digit, as the table is printed.
bool four_digits(double value, double printed) {
    return std::abs(value - printed) <= 0.5001 * std::pow(10.0, std::floor(std::log10(printed)) - 3.0);
}

} // namespace

// Worked by hand: a pass of 44 ft from spot to spot (22 ft from the axis, 20 ft out: NHL Rule 1.9, from
// memory), on-angle point to on-angle point, straight way.
TEST_CASE("spot to spot: way, pass time, mean speed needed") {
    struct Row {
        double pass_mps, pass_s, at_once_3ft, at_once_6ft, after_3ft, after_6ft;
    };
    const IcePoint puck = feet(22, 20);
    const Threat across{feet(-22, 20), true, true};
    for (const Row& row :
         {Row{15, 0.8941, 1.514, 3.027, 1.950, 3.899}, Row{20, 0.6706, 2.018, 4.036, 2.876, 5.751},
          Row{25, 0.5364, 2.523, 5.045, 4.022, 8.044}}) {
        CAPTURE(row.pass_mps);
        Parameters parameters = senior;
        parameters.pass_speed_mps = row.pass_mps;
        parameters.one_timer_s = 0.0;
        for (const auto& [depth_ft, way_m, at_once, after] :
             {std::tuple{3.0, 1.353, row.at_once_3ft, row.after_3ft},
              std::tuple{6.0, 2.706, row.at_once_6ft, row.after_6ft}}) {
            CAPTURE(depth_ft);
            const IcePoint goalie = puck_line(puck) * from_feet(depth_ft);
            // The goalie with just the printed speed arrives with the puck: margin 0, reach this depth.
            for (const auto& [see_s, speed] : {std::pair{0.0, at_once}, std::pair{0.20, after}}) {
                parameters.see_s = see_s;
                parameters.lateral_speed_mps = speed;
                const ThreatReading reading = read_threat(across, goalie, puck, nhl, parameters);
                CHECK(four_digits(reading.pass_s, row.pass_s));
                CHECK(four_digits(distance(reading.new_spot, goalie), way_m));
                CHECK(std::abs(reading.margin_s) < 5e-4);
                CHECK(std::abs(to_feet(reading.reach_depth_m.value()) - depth_ft) < 5e-3);
            }
        }
    }
}

TEST_CASE("the furthest depth that still reaches: closed form against a numeric search") {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> x(-12.0, 12.0), y(0.3, 18.0);
    int searched = 0;
    while (searched < 500) {
        const IcePoint puck{x(random), y(random)};
        const Threat threat{{x(random), y(random)}, random() % 2 == 0, true};
        const auto reach = reach_depth_m(threat, puck, senior);
        if (!reach || *reach > 30.0) continue;
        const auto margin = [&](double depth) {
            return read_threat(threat, puck_line(puck) * depth, puck, nhl, senior).margin_s;
        };
        double low = 0.0, high = 40.0; // margin falls with depth
        if (margin(0.0) < 0.0) {
            CHECK(*reach == 0.0);
            ++searched;
            continue;
        }
        for (int i = 0; i < 80; ++i) {
            const double middle = (low + high) / 2.0;
            (margin(middle) >= 0.0 ? low : high) = middle;
        }
        CHECK(*reach == doctest::Approx(low).epsilon(1e-9));
        ++searched;
    }
}

TEST_CASE("a receiver on the puck line asks for no way: every depth reaches") {
    const IcePoint puck{3.0, 6.0};
    const Threat behind{puck * 1.5, false, true};
    const ThreatReading reading = read_threat(behind, puck_line(puck) * 1.5, puck, nhl, senior);
    CHECK_FALSE(reading.reach_depth_m.has_value());
    CHECK(reading.need_s == doctest::Approx(senior.see_s));
    CHECK(reading.margin_s > 0.0);
}

TEST_CASE("a shot that leaves before the pass is seen: no depth reaches") {
    const Threat close{{2.0, 6.5}, true, true};
    CHECK(reach_depth_m(close, {3.0, 6.0}, senior) == 0.0);
    const ThreatReading reading = read_threat(close, {0.6, 1.2}, {3.0, 6.0}, nhl, senior);
    CHECK(reading.margin_s < 0.0);
    CHECK(reading.arrives_at == IcePoint{0.6, 1.2}); // has not moved yet
}

TEST_CASE("late by half the way: the goalie is half-way across") {
    Parameters parameters = senior;
    parameters.see_s = 0.2;
    parameters.one_timer_s = 0.0;
    parameters.pass_speed_mps = 10.0;
    const IcePoint puck{5.0, 5.0};
    const Threat threat{{-5.0, 5.0}, true, true}; // 1 s of pass, 0.8 s to move
    const IcePoint goalie = puck_line(puck) * 1.6;
    parameters.lateral_speed_mps =
        std::sqrt(2.0) * 1.6 / 1.6; // the whole way, a chord of 1.6 sqrt 2, takes 1.6 s
    const ThreatReading reading = read_threat(threat, goalie, puck, nhl, parameters);
    CHECK(reading.margin_s == doctest::Approx(-0.8));
    CHECK(distance(reading.arrives_at, (goalie + reading.new_spot) * 0.5) < 1e-12);
    CHECK(reading.coverage_on_arrival.value() <
          read_moment(stance_from_mark(reading.new_spot), threat.at, nhl, parameters).coverage->covered);
}

TEST_CASE("a receiver below the goal line has no net to shoot at") {
    const ThreatReading reading = read_threat({{1.5, -1.0}}, {0.3, 1.0}, {3.0, 6.0}, nhl, senior);
    CHECK_FALSE(reading.coverage_on_arrival.has_value());
}

TEST_CASE("puck behind the net: nobody goes into the net") {
    const ThreatReading reading = read_threat({{0.5, 5.0}}, {0.0, 0.4}, {0.0, -2.0}, nhl, senior);
    CHECK(reading.new_spot == IcePoint{0.0, 0.0});
}
