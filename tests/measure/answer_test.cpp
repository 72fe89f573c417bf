#include "verbs/measure.h"

#include "camera/made_camera.h"
#include "rink/landmarks.h"
#include "rink/units.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <string>

using namespace ropeline;
using Answer = nlohmann::json;

namespace {

const made::Camera camera;

nlohmann::json pixel(IcePoint at) {
    const ImagePoint seen = made::see(camera, at);
    return {seen.x_px, seen.y_px};
}

nlohmann::json request_with_clicks(std::initializer_list<const char*> names) {
    nlohmann::json request{{"rink", "nhl"}, {"image", {1920, 1080}}, {"landmarks", nlohmann::json::array()}};
    for (const char* name : names) {
        const IcePoint at = find_landmark(rule_book(RuleBookId::nhl), name).value().at;
        request["landmarks"].push_back({{"at", pixel(at)}, {"name", name}});
    }
    return request;
}

Answer ask(const nlohmann::json& request) {
    return Answer::parse(answer_measure(parse_measure_request(request.dump())));
}

const std::initializer_list<const char*> five{"left_post", "right_post", "left_spot", "right_spot",
                                              "crease_top"};

IcePoint feet(double x, double y) {
    return {from_feet(x), from_feet(y)};
}

} // namespace

TEST_CASE("pixels become metres with a sigma") {
    nlohmann::json request = request_with_clicks(five);
    request["points"] = {pixel({1.2, 3.4}), pixel({-4.0, 9.0})};
    const Answer answer = ask(request);
    CHECK(answer["fit"]["rms_px"].get<double>() < 1e-6);
    CHECK(answer["fit"]["warnings"].empty());
    CHECK(answer["fit"]["ice_to_image"].size() == 9);
    CHECK(answer["fit"]["ice_to_image"][8] == 1.0);
    CHECK(answer["points"][0]["ice_m"][0].get<double>() == doctest::Approx(1.2));
    CHECK(answer["points"][0]["ice_m"][1].get<double>() == doctest::Approx(3.4));
    CHECK(answer["points"][0]["sigma_m"][0].get<double>() > 0.005);
    CHECK(answer["points"][0]["sigma_m"][1].get<double>() < 0.5);
}

TEST_CASE("a point above the horizon is null") {
    made::Camera low = camera;
    low.height_m = 5.0;
    low.focal_px = 600.0;
    low.looks_at = {0.0, -30.0};
    nlohmann::json request{
        {"image", {1920, 1080}}, {"landmarks", nlohmann::json::array()}, {"points", {{960, 5}}}};
    for (const char* name : five) {
        const Landmark mark = find_landmark(rule_book(RuleBookId::nhl), name).value();
        const ImagePoint seen = made::see(low, mark.at);
        request["landmarks"].push_back(
            {{"at", {seen.x_px, seen.y_px}}, {"point", {mark.at.x_m, mark.at.y_m}}});
    }
    request["moments"] = {{{"puck", {960, 5}}, {"goalie", {960, 600}}}};
    const Answer answer = ask(request);
    CHECK(answer["points"][0]["ice_m"].is_null());
    CHECK(answer["moments"][0]["reason"].get<std::string>().find("horizon") != std::string::npos);
}

// The row of five feet in the worked table: 88.89 % covered, 0.7244 degrees short side, 0.1432 degrees far
// side.
TEST_CASE("a moment through the camera reads as the worked example") {
    nlohmann::json request = request_with_clicks(five);
    const IcePoint puck = feet(22, 20);
    const IcePoint goalie = puck * (5.0 / std::hypot(22.0, 20.0));
    request["parameters"] = {{"block_width_m", from_feet(3)}};
    request["moments"] = {{{"puck", pixel(puck)}, {"goalie", pixel(goalie)}}};
    const Answer moment = ask(request)["moments"][0];
    CHECK(moment["depth_m"].get<double>() == doctest::Approx(from_feet(5)));
    CHECK(moment["crease_edge_m"].get<double>() == doctest::Approx(1.648).epsilon(3e-4));
    CHECK(moment["clearance_m"].get<double>() ==
          doctest::Approx(from_feet(5) - from_feet(5.406)).epsilon(1e-3));
    CHECK(moment["band"] == "base");
    CHECK(moment["coverage"].get<double>() == doctest::Approx(0.8889).epsilon(1e-4));
    CHECK(moment["net_angle_deg"].get<double>() == doctest::Approx(7.809).epsilon(1e-4));
    CHECK(moment["open_short_deg"].get<double>() == doctest::Approx(0.7244).epsilon(2e-4));
    CHECK(moment["open_far_deg"].get<double>() == doctest::Approx(0.1432).epsilon(1e-3));
    CHECK(moment["depth_sigma_m"].get<double>() > 0.0);
    CHECK(moment["square_error_deg"].is_null());
    double odds = 0.0;
    for (const auto& [band, chance] : moment["band_odds"].items())
        odds += chance.get<double>();
    CHECK(odds == doctest::Approx(1.0));
}

TEST_CASE("two skates give a facing") {
    nlohmann::json request{{"ice", true}};
    request["moments"] = {{{"puck", {0.0, 9.0}}, {"skates", {{-0.3, 1.0}, {0.3, 1.0}}}}};
    const Answer answer = ask(request);
    CHECK(answer["fit"].is_null());
    CHECK(answer["points"].empty());
    CHECK(answer["moments"][0]["square_error_deg"].get<double>() == doctest::Approx(0.0));
    CHECK(answer["moments"][0]["depth_sigma_m"].is_null());
    CHECK(answer["moments"][0]["goalie_m"] == nlohmann::json{0.0, 1.0});
}

TEST_CASE("behind the goal line there is no net angle") {
    nlohmann::json request{{"ice", true}};
    request["moments"] = {{{"puck", {3.0, -1.0}}, {"goalie", {0.3, 0.1}}}};
    const Answer moment = ask(request)["moments"][0];
    for (const char* key : {"net_angle_deg", "coverage", "open_short_deg", "open_far_m", "net_seen"})
        CHECK(moment[key].is_null());
    CHECK(moment["band"] == "defensive");
}

TEST_CASE("a decision: every figure of the contract, on a rush and on the post") {
    nlohmann::json request{{"ice", true}};
    request["moments"] = {{{"puck", {5.0, 9.0}},
                           {"goalie", {1.12, 2.01}},
                           {"threats", {{{"at", {-4.0, 7.0}}, {"kind", "one_timer"}, {"took", true}}}},
                           {"situation", "rush"},
                           {"next", "pass"},
                           {"before", {{"goalie", {1.0, 1.8}}, {"seconds", 0.8}}}},
                          {{"puck", {6.7, 2.0}}, {"goalie", {0.3, 0.9}}}};
    const Answer moments = ask(request)["moments"], rush = moments[0], post = moments[1];
    CHECK(rush["on_post"] == false);
    CHECK(rush["verdict"] == "over_challenged");
    CHECK(rush["advised"]["from_m"] < rush["advised"]["best_m"]);
    CHECK(rush["advised"]["best_m"] < rush["advised"]["to_m"]);
    CHECK(rush["advised"]["limit"] == "pass");
    CHECK(rush["advised"]["threat"] == 0);
    CHECK(rush["gave_away"].get<double>() ==
          doctest::Approx(rush["left_open"].get<double>() - rush["left_open_best"].get<double>()));
    CHECK(rush["on_what_came"]["open"] == rush["threats"][0]["open_on_arrival"]);
    CHECK(rush["on_what_came"]["from_advised"] < rush["on_what_came"]["open"]);
    CHECK(rush["threats"][0]["late_s"] > 0.0);
    CHECK(rush["firm"] >= 0.0);
    CHECK(rush["firm"] <= 1.0);
    CHECK(rush["reason"].get<std::string>().starts_with("Over-challenged: "));
    for (const char* gone : {"advised_depth_m", "depth_error_m", "cap_m", "limit", "advice", "flips"})
        CHECK_FALSE(rush.contains(gone));
    CHECK(post["on_post"] == true);
    CHECK(post["advised"].is_null());
    CHECK(post["gave_away"].is_null());
    CHECK(post["left_open_best"].is_null());
    CHECK(post["on_what_came"].is_null());
    CHECK(post["verdict"] == "off_the_post");
}

TEST_CASE("a receiver above the horizon has no figures, and the advice names the others by their place") {
    nlohmann::json request = request_with_clicks(five);
    request["moments"] = {
        {{"puck", pixel({5.0, 9.0})},
         {"goalie", pixel({1.12, 2.01})},
         {"threats", {{{"at", {960, -5000}}}, {{"at", pixel({-4.0, 7.0})}, {"kind", "one_timer"}}}},
         {"situation", "rush"}}};
    const Answer moment = ask(request)["moments"][0];
    if (moment["threats"][0]["ice_m"].is_null()) {
        CHECK(moment["threats"][0]["open_on_arrival"].is_null());
        CHECK(moment["advised"]["threat"] == 1);
    }
    CHECK(moment["firm"].is_number());
}

TEST_CASE("the parameters in force are echoed") {
    nlohmann::json request{{"ice", true}, {"level", "youth"}, {"parameters", {{"pass_speed_mps", 9.5}}}};
    const Answer parameters = ask(request)["parameters"];
    CHECK(parameters.size() == parameter_facts().size());
    CHECK(parameters["pass_speed_mps"] == 9.5);
    CHECK(parameters["shot_speed_mps"] == parameters_for(Level::youth).shot_speed_mps);
}

TEST_CASE("clicks that carry no fit fail with the fit's words") {
    CHECK_THROWS_WITH_AS(ask(request_with_clicks({"left_post", "right_post", "left_spot"})),
                         "3 landmarks are clicked; a rink fit needs four, no three of them on one line",
                         FitError);
    CHECK_THROWS_AS(ask(request_with_clicks({"left_post", "right_post", "left_crease_foot", "right_spot"})),
                    FitError);
}

TEST_CASE("clicks on curves and a bent lens") {
    made::Camera bent = camera;
    bent.radial = -0.08;
    const auto seen = [&](IcePoint at) {
        const ImagePoint pixel = made::see(bent, at);
        return nlohmann::json{pixel.x_px, pixel.y_px};
    };
    nlohmann::json request{{"rink", "nhl"}, {"image", {1920, 1080}}, {"distortion", "radial"}};
    for (const char* name :
         {"left_post", "right_post", "left_spot", "right_spot", "crease_top", "left_circle_low"}) {
        const IcePoint at = find_landmark(rule_book(RuleBookId::nhl), name).value().at;
        request["landmarks"].push_back({{"at", seen(at)}, {"name", name}});
    }
    request["landmarks"].push_back({{"at", seen({-4.0, 19.3548})}, {"on", "blue_line"}});
    request["landmarks"].push_back({{"at", seen({6.7056, 6.0960 + 4.5720})}, {"on", "right_circle"}});
    request["points"] = {seen({1.0, 2.0})};
    const Answer answer = ask(request);
    CHECK(answer["fit"]["radial"].get<double>() == doctest::Approx(-0.08).epsilon(1e-5));
    CHECK(answer["fit"]["rms_px"].get<double>() < 1e-5);
    CHECK(answer["points"][0]["ice_m"][1].get<double>() == doctest::Approx(2.0).epsilon(1e-6));
}

TEST_CASE("a rule book that does not suit is named") {
    nlohmann::json request{{"rink", "nhl"}, {"image", {1920, 1080}}};
    for (const char* name :
         {"left_post", "right_post", "crease_top", "left_spot", "right_spot", "left_circle_high",
          "right_circle_low", "left_inner_hash_low", "right_neutral_spot"}) {
        request["landmarks"].push_back(
            {{"at", pixel(find_landmark(rule_book(RuleBookId::iihf), name).value().at)}, {"name", name}});
    }
    std::string words;
    try {
        const Answer answer = ask(request);
        for (const auto& warning : answer["fit"]["warnings"])
            words += warning.get<std::string>() + "\n";
    } catch (const FitError& error) {
        words = error.what();
    }
    CHECK(words.find("the clicks agree with the IIHF rule book, not with NHL") != std::string::npos);
}

TEST_CASE("points far outside the clicks are called extrapolated") {
    nlohmann::json request = request_with_clicks(five);
    request["points"] = {pixel({0.0, 3.0}), {20.0, 1060.0}};
    const Answer answer = ask(request);
    REQUIRE(answer["fit"]["warnings"].size() == 1);
    CHECK(answer["fit"]["warnings"][0] == "points[1] lies far outside the clicks: extrapolated");
}
