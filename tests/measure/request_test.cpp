#include "verbs/measure.h"
#include "verbs/verbs.h"

#include <doctest/doctest.h>

#include <string>

using namespace ropeline;

namespace {

std::string complaint(const std::string& json) {
    try {
        parse_measure_request(json);
    } catch (const WrongCall& error) {
        CHECK(std::string(error.what()).find('\n') == std::string::npos);
        return error.what();
    }
    return "accepted";
}

bool complains(const std::string& json, const std::string& words) {
    const std::string said = complaint(json);
    CAPTURE(said);
    CHECK_MESSAGE(said.find(words) != std::string::npos, said);
    return said.find(words) != std::string::npos;
}

} // namespace

TEST_CASE("a full request is read") {
    const MeasureRequest request = parse_measure_request(R"({
      "rink": "iihf", "image": [1280, 720], "distortion": "none", "click_sigma_px": 0.5,
      "landmarks": [{"at": [812.0, 431.5], "point": [0.915, 0.0]}, {"at": [640, 470], "name": "left_post"}],
      "points": [[900.0, 500.0]], "level": "junior", "parameters": {"lateral_speed_mps": 2.0, "beyond_rush_m": 0.5},
      "moments": [{"puck": [700, 380], "skates": [[610, 452], [640, 448]],
                   "threats": [{"at": [400, 380], "kind": "tip", "lane": "contested", "took": true}, {"at": [1, 1]}],
                   "situation": "rush", "likelihood": "either", "sight": "screened", "next": "shot",
                   "before": {"goalie": [600, 455], "seconds": 0.8}},
                  {"puck": [700, 380], "goalie": [625, 450]}]})");
    CHECK(request.rules == RuleBookId::iihf);
    CHECK(request.image == ImageSize{1280, 720});
    CHECK(request.click_sigma_px == 0.5);
    REQUIRE(request.clicks.points.size() == 2);
    CHECK(request.lens == LensChoice::none);
    CHECK(request.clicks.points[1].point == IcePoint{-0.915, 0.0});
    CHECK(request.clicks.points[1].label == "left post, inside");
    CHECK(request.points.size() == 1);
    CHECK(request.parameters.lateral_speed_mps == 2.0);
    CHECK(request.parameters.beyond_m[0] == 0.5);
    CHECK(request.parameters.shot_speed_mps == parameters_for(Level::junior).shot_speed_mps);
    REQUIRE(request.moments.size() == 2);
    CHECK(request.moments[0].skates.has_value());
    CHECK(request.moments[0].threats[0].kind == ReceiverKind::tip);
    CHECK(request.moments[0].threats[0].lane == Lane::contested);
    CHECK(request.moments[0].threats[0].took);
    CHECK_FALSE(request.moments[0].threats[1].kind.has_value());
    CHECK(request.moments[0].threats[1].lane == Lane::open);
    CHECK(request.moments[0].sight == Sight::screened);
    CHECK(request.moments[0].before->seconds == 0.8);
    CHECK_FALSE(request.moments[1].before.has_value());
    CHECK(request.moments[0].situation == Situation::rush);
    CHECK(request.moments[0].next == NextAction::shot);
    CHECK(request.level == Level::junior);
    CHECK(request.moments[1].goalie.has_value());
}

TEST_CASE("unknown keys are refused by name, wherever they are") {
    complains(R"({"rinks": "nhl"})", "the request has the unknown key \"rinks\"");
    complains(R"({"image": [8, 8], "landmarks": [{"at": [1, 2], "pt": [0, 0]}]})",
              "landmarks[0] has the unknown key \"pt\"");
    complains(R"({"image": [8, 8], "moments": [{"puck": [1, 2], "goalie": [1, 2], "who": 1}]})",
              "moments[0] has the unknown key \"who\"");
    complains(
        R"({"ice": true, "moments": [{"puck": [1, 2], "goalie": [1, 2], "before": {"goalie": [1, 2], "s": 1}}]})",
        "moments[0].before has the unknown key \"s\"; known are goalie, seconds");
    complains(R"({"image": [8, 8], "parameters": {"speed": 1}})",
              "parameters has the unknown key \"speed\"; known are block_width_m");
    complains(
        R"({"ice": true, "moments": [{"puck": [1, 2], "goalie": [1, 2], "threats": [{"at": [1, 1], "one_timer": true}]}]})",
        "moments[0].threats[0] has the unknown key \"one_timer\"; known are at, kind, lane, took");
}

TEST_CASE("wrong values are refused with their place") {
    complains("", "the request is not JSON");
    complains("{\"rink\": ", "the request is not JSON");
    complains("[]", "the request must be an object");
    complains(R"({"image": [1920]})", "image must be two numbers");
    complains(R"({"image": [0, 10]})", "whole pixels");
    complains(R"({"landmarks": []})", "lacks \"image\"");
    complains(R"({"image": [8, 8], "rink": "pond"})",
              "rink is \"pond\"; it must be one of nhl, iihf, usa_hockey, hockey_canada");
    complains(R"({"image": [8, 8], "rink": 3})", "rink must be text");
    complains(R"({"image": [8, 8], "landmarks": [{"name": "left_post"}]})", "landmarks[0] lacks \"at\"");
    complains(R"({"image": [8, 8], "landmarks": [{"at": [1, 2]}]})",
              "must say one of \"name\", \"point\" and \"on\"");
    complains(R"({"image": [8, 8], "landmarks": [{"at": [1, 2], "on": "bench"}]})",
              "landmarks[0].on is \"bench\"; it must be one of goal_line, crease");
    complains(R"({"image": [8, 8], "landmarks": [{"at": [1, "2"], "name": "left_post"}]})",
              "landmarks[0].at[1] must be a number");
    complains(R"({"image": [8, 8], "landmarks": [{"at": [1, 2], "name": "penalty_box"}]})",
              "the NHL rule book has no landmark \"penalty_box\"");
    complains(R"({"image": [8, 8], "points": [[1, 1e999]]})", "the request is not JSON");
    complains(R"({"image": [8, 8], "click_sigma_px": 0})", "click_sigma_px must be above 0");
    complains(R"({"image": [8, 8], "parameters": {"see_s": -1}})",
              "parameters.see_s is -1 s; it must be 0 to 1 s");
    complains(R"({"image": [8, 8], "moments": [{"goalie": [1, 2]}]})", "moments[0] lacks \"puck\"");
    complains(R"({"image": [8, 8], "moments": [{"puck": [1, 2]}]})", "either \"skates\"");
    complains(R"({"image": [8, 8], "moments": [{"puck": [1, 2], "goalie": [1, 2], "next": "dive"}]})",
              "moments[0].next is \"dive\"");
    complains(R"({"ice": true, "moments": [{"puck": [1, 2], "goalie": [1, 2], "sight": "fog"}]})",
              "moments[0].sight is \"fog\"; it must be one of clear, partly, screened");
    complains(R"({"ice": true, "moments": [{"puck": [1, 2], "goalie": [1, 2], "before": {"seconds": 1}}]})",
              "moments[0].before must have \"goalie\" and \"seconds\"");
    complains(
        R"({"ice": true, "moments": [{"puck": [1, 2], "goalie": [1, 2], "before": {"goalie": [1, 2], "seconds": -1}}]})",
        "the moment before lies in the past");
    complains(R"({"ice": true, "parameters": {"cap_rush_m": 2}})", "unknown key \"cap_rush_m\"");
    complains(R"({"ice": true, "points": [[1, 2]]})", "\"points\" has no meaning there");
    complains(R"({"ice": 1})", "ice must be true or false");
}
