// The four geometric examples of the trade-facts page, worked by hand in feet (goal mouth 6 ft, end-zone spot
// 22 ft from the axis and 20 ft from the goal line: NHL Rule 1.9, from memory), put through the function
// behind `ropeline measure`.
#include "verbs/measure.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <cmath>

using namespace ropeline;
using nlohmann::json;

namespace {

constexpr double foot_m = 0.3048;

json point(double x_ft, double y_ft) {
    return {x_ft * foot_m, y_ft * foot_m};
}

json measured(json request) {
    request["ice"] = true;
    return json::parse(answer_measure(parse_measure_request(request.dump())));
}

/// Puck at the spot, goalie on the line from there to the middle of the net, `depth_ft` out.
json at_spot(double depth_ft) {
    const double range_ft = std::hypot(22.0, 20.0);
    return {{"puck", point(22.0, 20.0)},
            {"goalie", point(depth_ft * 22.0 / range_ft, depth_ft * 20.0 / range_ft)}};
}

/// Four significant digits, as the examples are printed.
/// Half a unit in the fourth digit of what is printed.
bool four_digits(double value, double printed) {
    return std::abs(value - printed) <=
           0.5001 * std::pow(10.0, std::floor(std::log10(std::abs(printed))) - 3.0);
}

} // namespace

TEST_CASE("worked example 1: the angle between the posts") {
    const json moments = {{{"puck", point(22, 20)}, {"goalie", point(0, 3)}},
                          {{"puck", point(0, 60)}, {"goalie", point(0, 3)}},
                          {{"puck", point(0, 15)}, {"goalie", point(0, 3)}}};
    const json answer = measured({{"rink", "nhl"}, {"moments", moments}});
    const double printed[] = {7.809, 5.725, 22.62};
    for (std::size_t index = 0; index < 3; ++index) {
        CHECK(four_digits(answer["moments"][index]["net_angle_deg"].get<double>(), printed[index]));
    }
    const json iihf =
        measured({{"rink", "iihf"}, {"moments", {{{"puck", {7.0, 6.0}}, {"goalie", {0.0, 1.0}}}}}});
    CHECK(four_digits(iihf["moments"][0]["net_angle_deg"].get<double>(), 7.433));
}

TEST_CASE("worked example 2: the crease edge towards the spot") {
    struct Row {
        const char* rink;
        double x_m, y_m, edge_m;
    };
    for (const Row& row : {Row{"nhl", 22 * foot_m, 20 * foot_m, 1.648}, Row{"iihf", 7.0, 6.0, 1.800},
                           Row{"usa_hockey", 22 * foot_m, 20 * foot_m, 1.829},
                           Row{"hockey_canada", 22 * foot_m, 20 * foot_m, 1.829}}) {
        CAPTURE(row.rink);
        const json answer = measured(
            {{"rink", row.rink}, {"moments", {{{"puck", {row.x_m, row.y_m}}, {"goalie", {0.5, 0.5}}}}}});
        CHECK(std::abs(answer["moments"][0]["crease_edge_m"].get<double>() - row.edge_m) < 6e-4);
    }
}

TEST_CASE("worked example 3: net covered from the spot by a goalie three feet wide") {
    struct Row {
        double depth_ft, covered_per_cent, near_deg, far_deg;
    };
    for (const Row& row : {Row{1, 76.54, 1.207, 0.6254}, Row{3, 82.25, 0.9835, 0.4023},
                           Row{5, 88.89, 0.7244, 0.1432}, Row{7, 94.62, 0.4199, 0.0}}) {
        CAPTURE(row.depth_ft);
        const json answer = measured({{"rink", "nhl"},
                                      {"parameters", {{"block_width_m", 3 * foot_m}}},
                                      {"moments", {at_spot(row.depth_ft)}}});
        const json& moment = answer["moments"][0];
        CHECK(four_digits(100.0 * moment["coverage"].get<double>(), row.covered_per_cent));
        CHECK(std::abs(moment["open_short_deg"].get<double>() - row.near_deg) < 6e-4);
        CHECK(std::abs(moment["open_far_deg"].get<double>() - row.far_deg) < 6e-5);
        CHECK(four_digits(moment["depth_m"].get<double>(), row.depth_ft * foot_m));
    }
}

TEST_CASE("worked example 4: the goalie's way across for a pass from spot to spot") {
    // With no release and the speed that the way needs he is on the new line, 3 ft out, as the puck arrives.
    struct Row {
        double pass_mps, pass_s, speed_for_3_ft;
    };
    for (const Row& row : {Row{15, 0.8941, 1.950}, Row{20, 0.6706, 2.876}, Row{25, 0.5364, 4.022}}) {
        CAPTURE(row.pass_mps);
        json moment = at_spot(3);
        moment["threats"] = {{{"at", point(-22, 20)}, {"kind", "one_timer"}}};
        const json answer = measured({{"rink", "nhl"},
                                      {"parameters",
                                       {{"lateral_speed_mps", row.speed_for_3_ft},
                                        {"pass_speed_mps", row.pass_mps},
                                        {"see_s", 0.2},
                                        {"one_timer_s", 0.0}}},
                                      {"moments", {moment}}});
        const json& threat = answer["moments"][0]["threats"][0];
        CHECK(four_digits(threat["pass_s"].get<double>(), row.pass_s));
        CHECK(threat["have_s"] == threat["pass_s"]);
        CHECK(threat["late_s"] == 0.0);
        // All of the way he can go is 4.440 ft, wherever he stops on it.
        CHECK(row.speed_for_3_ft * (row.pass_s - 0.2) == doctest::Approx(4.440 * foot_m).epsilon(1e-3));
        const json goalie = answer["moments"][0]["goalie_m"], there = threat["arrives_m"];
        const double gone = std::hypot(there[0].get<double>() - goalie[0].get<double>(),
                                       there[1].get<double>() - goalie[1].get<double>());
        CHECK(gone <= 4.440 * foot_m * 1.001);
    }
}
