// Ten thousand random moments through the measure verb's answer, against the model written a second time from
// its definitions (by_definition.cpp). Tolerances: lengths, shares and seconds 1e-6, angles 1e-5 degrees, the
// share of the mouth in sight 1e-4 (it is summed over slices there).
#include "measure/by_definition.h"
#include "rink/units.h"
#include "verbs/measure.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <map>
#include <random>
#include <string>
#include <utility>

using namespace ropeline;
using by_definition::Opponent;
using by_definition::Place;
using nlohmann::json;

namespace {

constexpr std::array rinks{"nhl", "iihf", "usa_hockey", "hockey_canada"};
constexpr std::array levels{"youth", "junior", "senior", "elite"};
constexpr int moments_each = 625; // of each rink and level

class Dice {
public:
    explicit Dice(unsigned seed) : engine_(seed) {}
    double between(double low, double high) {
        return std::uniform_real_distribution<double>{low, high}(engine_);
    }
    bool chance(double share) { return between(0.0, 1.0) < share; }
    std::string one_of(std::initializer_list<const char*> words) {
        const auto at = static_cast<std::ptrdiff_t>(between(0.0, static_cast<double>(words.size())));
        return *(words.begin() + std::min(at, static_cast<std::ptrdiff_t>(words.size()) - 1));
    }

private:
    std::mt19937 engine_;
};

/// Anywhere on the ice, also behind the goal line; more often where chances come from.
Place somewhere(Dice& dice) {
    if (dice.chance(0.2)) return {dice.between(-13.0, 13.0), dice.between(-3.5, 50.0)};
    return std::polar(dice.between(0.5, 18.0), dice.between(-0.1, pi + 0.1));
}

by_definition::Moment random_moment(Dice& dice) {
    by_definition::Moment moment;
    moment.puck = somewhere(dice);
    // About the puck line, now and then lost.
    moment.goalie = std::polar(dice.between(0.0, 3.2), std::arg(moment.puck) + dice.between(-0.4, 0.4));
    if (dice.chance(0.1)) moment.goalie = {dice.between(-3.0, 3.0), dice.between(-1.0, 4.0)};
    if (dice.chance(0.5)) {
        const double facing = std::arg(moment.puck - moment.goalie) +
                              (dice.chance(0.1) ? dice.between(-pi, pi) : dice.between(-0.5, 0.5));
        const Place half = std::polar(dice.between(0.1, 0.5), facing - pi / 2);
        moment.skates = {moment.goalie - half, moment.goalie + half};
        moment.goalie = (moment.skates->first + moment.skates->second) / 2.0;
    }
    for (double count = dice.between(-1.0, 3.0); count > 0.0; count -= 1.0)
        moment.threats.push_back({somewhere(dice), dice.chance(0.5), dice.chance(0.6)});
    moment.situation =
        dice.one_of({"", "rush", "zone", "penalty_kill", "rebound", "breakaway", "neutral_ice"});
    moment.likelihood = dice.one_of({"", "shot", "either", "pass"});
    moment.next = dice.one_of({"", "shot", "shot", "shot", "pass", "pass", "pass", "carry", "none"});
    return moment;
}

json pair(Place at) {
    return {at.real(), at.imag()};
}

json request_of(const by_definition::Moment& moment) {
    json request{{"puck", pair(moment.puck)}};
    if (moment.skates)
        request["skates"] = {pair(moment.skates->first), pair(moment.skates->second)};
    else
        request["goalie"] = pair(moment.goalie);
    if (!moment.threats.empty()) request["threats"] = json::array();
    for (const Opponent& threat : moment.threats)
        request["threats"].push_back(
            {{"at", pair(threat.at)}, {"one_timer", threat.one_timer}, {"open", threat.open}});
    for (const auto& [key, word] :
         {std::pair{"situation", &moment.situation}, std::pair{"likelihood", &moment.likelihood},
          std::pair{"next", &moment.next}})
        if (!word->empty()) request[key] = *word;
    return request;
}

bool near(const json& found, double wanted, double within) {
    return found.is_number() && std::abs(found.get<double>() - wanted) <= within;
}
bool near(const json& found, const std::optional<double>& wanted, double within) {
    return wanted ? near(found, *wanted, within) : found.is_null();
}

constexpr double within_m = 1e-6, within_deg = 1e-5, within_area = 1e-4;

void compare_net(const json& found, const by_definition::Moment& moment,
                 const std::optional<by_definition::Seen>& seen) {
    if (!seen) {
        for (const char* key : {"net_angle_deg", "coverage", "open_short_deg", "open_far_deg", "open_short_m",
                                "open_far_m", "net_seen"})
            CHECK(found[key].is_null());
        return;
    }
    CHECK(near(found["net_angle_deg"], to_degrees(seen->net_angle), within_deg));
    if (!seen->any) { // at most a sliver between two rays
        CHECK(near(found["coverage"], 0.0, 1.5 / by_definition::rays));
        return;
    }
    CHECK(near(found["coverage"], seen->covered, within_m));
    const bool left_is_short = moment.puck.real() < 0.0;
    const auto check_side = [&](const char* degrees, const char* metres, bool left) {
        CHECK(near(found[degrees], to_degrees(left ? seen->left_angle : seen->right_angle), within_deg));
        CHECK(near(found[metres], left ? seen->left_m : seen->right_m, within_m));
    };
    check_side("open_short_deg", "open_short_m", left_is_short);
    check_side("open_far_deg", "open_far_m", !left_is_short);
    CHECK(near(found["net_seen"], seen->area, within_area));
}

void compare_passes(const json& found, const std::vector<by_definition::Pass>& passes) {
    REQUIRE(found.size() == passes.size());
    for (std::size_t one = 0; one < passes.size(); ++one) {
        CAPTURE(one);
        const by_definition::Pass& pass = passes[one];
        CHECK(near(found[one]["pass_s"], pass.pass_s, within_m));
        CHECK(near(found[one]["have_s"], pass.have_s, within_m));
        CHECK(near(found[one]["need_s"], pass.need_s, within_m));
        CHECK(near(found[one]["margin_s"], pass.margin_s, within_m));
        CHECK(near(found[one]["reach_depth_m"], pass.reach_m, within_m));
        CHECK(near(found[one]["new_spot_m"][0], pass.new_spot.real(), within_m));
        CHECK(near(found[one]["new_spot_m"][1], pass.new_spot.imag(), within_m));
        const auto& covered = pass.covered_on_arrival;
        CHECK(near(found[one]["coverage_on_arrival"], covered,
                   covered && *covered == 0.0 ? 1.5 / by_definition::rays : within_m));
    }
}

/// Just short of a flip the verdict is what it was, just past it what it becomes.
void compare_flips(const json& found, const by_definition::Moment& moment, const RuleBook& rules,
                   const Parameters& parameters) {
    for (const json& flip : found["flips"]) {
        CAPTURE(flip.dump());
        const auto key = flip["parameter"].get<std::string>();
        const double in_force = *parameter(parameters, key);
        const double way = flip["value"].get<double>() - in_force;
        const auto verdict_at = [&](double share) {
            Parameters moved = parameters;
            set_parameter(moved, key, in_force + share * way);
            return by_definition::answer(moment, rules, moved).verdict;
        };
        // The value is bisected to a millionth of the stated range, which is under twice the value in force.
        const double slack = std::min(0.5, 3e-6 * in_force / std::abs(way));
        CHECK(verdict_at(1.0 - slack) == found["verdict"]);
        CHECK(verdict_at(1.0 + slack) == flip["verdict"]);
    }
}

} // namespace

TEST_CASE("10 000 random moments agree with the model written from its definitions") {
    Dice dice{20261125};
    int compared = 0, on_an_edge = 0, flips = 0;
    std::map<std::string, int> words;
    for (const char* rink : rinks) {
        for (const char* level : levels) {
            const RuleBook& rules = rule_book(*rule_book_from_key(rink));
            const Parameters parameters = parameters_for(*level_from_key(level));
            std::vector<by_definition::Moment> moments;
            json request{{"ice", true}, {"rink", rink}, {"level", level}, {"moments", json::array()}};
            for (int one = 0; one < moments_each; ++one) {
                moments.push_back(random_moment(dice));
                request["moments"].push_back(request_of(moments.back()));
            }
            const json answers =
                json::parse(answer_measure(parse_measure_request(request.dump())))["moments"];
            REQUIRE(answers.size() == moments.size());
            for (std::size_t one = 0; one < moments.size(); ++one) {
                const json& found = answers[one];
                const std::string asked = request["moments"][one].dump();
                CAPTURE(rink);
                CAPTURE(level);
                CAPTURE(asked);
                const by_definition::Answer wanted = by_definition::answer(moments[one], rules, parameters);
                ++compared;
                CHECK(near(found["goalie_m"][0], moments[one].goalie.real(), within_m));
                CHECK(near(found["goalie_m"][1], moments[one].goalie.imag(), within_m));
                CHECK(near(found["depth_m"], wanted.depth, within_m));
                CHECK(near(found["off_angle_m"], wanted.off, within_m));
                CHECK(near(found["crease_edge_m"], wanted.edge, within_m));
                CHECK(near(found["clearance_m"], wanted.clearance, within_m));
                CHECK(near(found["reaction_s"], wanted.reaction_s, within_m));
                CHECK(
                    near(found["square_error_deg"],
                         wanted.square_error ? std::optional{to_degrees(*wanted.square_error)} : std::nullopt,
                         within_deg));
                compare_net(found, moments[one], wanted.seen);
                if (wanted.passes.empty())
                    CHECK(found["threats"].empty());
                else
                    compare_passes(found["threats"], wanted.passes);
                CHECK(near(found["advised_depth_m"], wanted.advised, within_m));
                CHECK(near(found["depth_error_m"], wanted.error, within_m));
                CHECK(near(found["cap_m"], wanted.cap, within_m));
                CHECK(found["limit"] == wanted.limit);
                if (wanted.nearest_edge < within_m) {
                    ++on_an_edge;
                    continue;
                }
                CHECK(found["band"] == wanted.band);
                CHECK(found["band_odds"][wanted.band] == 1.0);
                CHECK(found["verdict"] == wanted.verdict);
                ++words[wanted.band];
                ++words[wanted.limit];
                ++words[wanted.verdict];
                compare_flips(found, moments[one], rules, parameters);
                flips += static_cast<int>(found["flips"].size());
            }
        }
    }
    CHECK(compared == 10000);
    CHECK(on_an_edge < 10);
    CHECK(flips > 1000);
    for (const char* word : {"defensive", "conservative", "base", "aggressive", "cap", "home", "pass",
                             "right_read", "over_challenged", "sat_back", "off_angle", "not_judged"})
        CHECK_MESSAGE(words[word] > 50, word, ": ", words[word]);
}
