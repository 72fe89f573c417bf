// Two thousand random plays through the measure verb's answer, against the model written a second time from
// its definitions (by_definition.cpp). Tolerances: geometry 1e-6 m and 1e-5 degrees; shares of the net 0.01,
// for that one sums over slices and looks every 4 cm; the ends of the advised stretch 0.03 m or, where little
// changes along the line, 0.01 of the net. Left out, and counted: verdicts that 1 cm of depth beyond what the two
// ends differ, or 0.002 of the net, would turn.
#include "measure/by_definition.h"
#include "rink/units.h"
#include "verbs/measure.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <map>
#include <random>
#include <string>
#include <utility>

using namespace ropeline;
using by_definition::Opponent;
using by_definition::Place;
using by_definition::Settings;
using nlohmann::json;

namespace {

constexpr std::array rinks{"nhl", "iihf", "usa_hockey", "hockey_canada"};
constexpr std::array levels{"youth", "junior", "senior", "elite"};
/// Of each rink and level. Under the sanitizers it is memory that is looked at; not so in a long run.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr int moments_in_ci = 8;
#else
constexpr int moments_in_ci = 40;
#endif
constexpr int moments_in_long_run = 125;
const int moments_each = std::getenv("ROPELINE_LONG_TESTS") ? moments_in_long_run : moments_in_ci;
constexpr double within_m = 1e-6, within_deg = 1e-5, within_area = 1e-4, within_share = 0.01;
constexpr double within_stretch_m = 0.03, within_edge_m = 0.01, within_cost = 0.002;

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
    if (dice.chance(0.15)) return {dice.between(-13.0, 13.0), dice.between(-3.5, 40.0)};
    return std::polar(dice.between(0.5, 18.0), dice.between(-0.1, pi + 0.1));
}

/// About the puck line, now and then lost.
Place goalie_for(Place puck, Dice& dice) {
    if (dice.chance(0.1)) return {dice.between(-3.0, 3.0), dice.between(-1.0, 4.0)};
    const double beside = dice.chance(0.7) ? 0.08 : 0.5;
    return std::polar(dice.between(0.0, 3.0), std::arg(puck) + dice.between(-beside, beside));
}

by_definition::Moment random_moment(Dice& dice) {
    by_definition::Moment moment;
    moment.puck = somewhere(dice);
    moment.goalie = goalie_for(moment.puck, dice);
    if (dice.chance(0.5)) {
        const double facing = std::arg(moment.puck - moment.goalie) +
                              (dice.chance(0.1) ? dice.between(-pi, pi) : dice.between(-0.5, 0.5));
        const Place half = std::polar(dice.between(0.1, 0.5), facing - pi / 2);
        moment.skates = {moment.goalie - half, moment.goalie + half};
        moment.goalie = (moment.skates->first + moment.skates->second) / 2.0;
    }
    for (double count = dice.between(-1.0, 3.0); count > 0.0; count -= 1.0) {
        moment.threats.push_back({somewhere(dice), dice.one_of({"one_timer", "stop", "tip"}),
                                  dice.one_of({"open", "open", "contested"}), false});
    }
    moment.situation =
        dice.one_of({"", "rush", "zone", "penalty_kill", "rebound", "breakaway", "neutral_ice"});
    moment.likelihood = dice.one_of({"", "shot", "either", "pass"});
    moment.sight = dice.one_of({"", "clear", "partly", "screened"});
    moment.next = dice.one_of({"", "shot", "shot", "pass", "pass", "carry", "none"});
    if (!moment.threats.empty() && dice.chance(0.7)) {
        Opponent& last = moment.threats.back();
        last.took = moment.next == "pass" || (moment.next == "shot" && last.kind == "tip");
    }
    if (dice.chance(0.3)) moment.before = {goalie_for(somewhere(dice), dice), dice.between(0.1, 1.5)};
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
    for (const Opponent& threat : moment.threats) {
        request["threats"].push_back(
            {{"at", pair(threat.at)}, {"kind", threat.kind}, {"lane", threat.lane}, {"took", threat.took}});
    }
    for (const auto& [key, word] :
         {std::pair{"situation", &moment.situation}, std::pair{"likelihood", &moment.likelihood},
          std::pair{"sight", &moment.sight}, std::pair{"next", &moment.next}})
        if (!word->empty()) request[key] = *word;
    if (moment.before)
        request["before"] = {{"goalie", pair(moment.before->goalie)}, {"seconds", moment.before->seconds}};
    return request;
}

/// The settings in force, as the answer echoes them.
Settings settings_of(const json& echoed) {
    static const std::map<std::string, double Settings::*> members{
        {"block_width_m", &Settings::block_width_m},
        {"block_height_m", &Settings::block_height_m},
        {"shot_speed_mps", &Settings::shot_speed_mps},
        {"pass_speed_mps", &Settings::pass_speed_mps},
        {"lateral_speed_mps", &Settings::lateral_speed_mps},
        {"see_s", &Settings::see_s},
        {"screen_s", &Settings::screen_s},
        {"one_timer_s", &Settings::one_timer_s},
        {"catch_and_shoot_s", &Settings::catch_and_shoot_s},
        {"reach_speed_mps", &Settings::reach_speed_mps},
        {"reach_most_m", &Settings::reach_most_m},
        {"gap_m", &Settings::gap_m},
        {"body_m", &Settings::body_m},
        {"loose_m", &Settings::loose_m},
        {"loose_s", &Settings::loose_s},
        {"home_m", &Settings::home_m},
        {"beyond_rush_m", &Settings::beyond_rush_m},
        {"beyond_zone_m", &Settings::beyond_zone_m},
        {"beyond_penalty_kill_m", &Settings::beyond_penalty_kill_m},
        {"beyond_rebound_m", &Settings::beyond_rebound_m},
        {"beyond_breakaway_m", &Settings::beyond_breakaway_m},
        {"pass_chance_shot", &Settings::chance_shot},
        {"pass_chance_either", &Settings::chance_either},
        {"pass_chance_pass", &Settings::chance_pass},
        {"contested", &Settings::contested},
        {"worth", &Settings::worth},
        {"angle_tolerance_m", &Settings::angle_tolerance_m},
        {"depth_tolerance_m", &Settings::depth_tolerance_m},
        {"defensive_depth_m", &Settings::defensive_depth_m},
        {"base_half_width_m", &Settings::base_half_width_m}};
    Settings settings;
    for (const auto& member : members) {
        REQUIRE_MESSAGE(echoed.contains(member.first), member.first);
        settings.*member.second = echoed[member.first].get<double>();
    }
    CHECK(echoed.size() == members.size());
    return settings;
}

bool near(const json& found, double wanted, double within) {
    return found.is_number() && std::abs(found.get<double>() - wanted) <= within;
}
bool near(const json& found, const std::optional<double>& wanted, double within) {
    return wanted ? near(found, *wanted, within) : found.is_null();
}

/// A play, both answers to it, and what they stand on.
struct Compared {
    const json& found;
    const by_definition::Moment& moment;
    const by_definition::Answer& wanted;
    const RuleBook& rules;
    const Settings& settings;

    double left_at(double depth) const {
        return left_open(moment, on_puck_line(moment, depth), rules, settings);
    }
};

void compare_net(const Compared& play) {
    const json& found = play.found;
    const std::optional<by_definition::Seen>& seen = play.wanted.seen;
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
    const bool left_is_short = play.moment.puck.real() < 0.0;
    const auto check_side = [&](const char* degrees, const char* metres, bool left) {
        CHECK(near(found[degrees], to_degrees(left ? seen->left_angle : seen->right_angle), within_deg));
        CHECK(near(found[metres], left ? seen->left_m : seen->right_m, within_m));
    };
    check_side("open_short_deg", "open_short_m", left_is_short);
    check_side("open_far_deg", "open_far_m", !left_is_short);
    CHECK(near(found["net_seen"], seen->area, within_area));
}

void compare_geometry(const Compared& play) {
    const json& found = play.found;
    const by_definition::Answer& wanted = play.wanted;
    CHECK(near(found["goalie_m"][0], play.moment.goalie.real(), within_m));
    CHECK(near(found["goalie_m"][1], play.moment.goalie.imag(), within_m));
    CHECK(near(found["depth_m"], wanted.depth, within_m));
    CHECK(near(found["off_angle_m"], wanted.off, within_m));
    CHECK(near(found["crease_edge_m"], wanted.edge, within_m));
    CHECK(near(found["clearance_m"], wanted.clearance, within_m));
    CHECK(near(found["reaction_s"], wanted.reaction_s, within_m));
    CHECK(near(found["square_error_deg"],
               wanted.square_error ? std::optional{to_degrees(*wanted.square_error)} : std::nullopt,
               within_deg));
    if (wanted.band_doubt_m > within_m) {
        CHECK(found["band"] == wanted.band);
        CHECK(found["band_odds"][wanted.band] == 1.0);
    }
    compare_net(play);
}

/// The way need not be the same where two are equally good; the time, and what is open then, must be.
void compare_arrivals(const Compared& play) {
    const json& found = play.found["threats"];
    REQUIRE(found.size() == play.wanted.arrivals.size());
    for (std::size_t one = 0; one < found.size(); ++one) {
        CAPTURE(one);
        const by_definition::Arrival& arrival = play.wanted.arrivals[one];
        CHECK(near(found[one]["pass_s"], arrival.pass_s, within_m));
        CHECK(near(found[one]["have_s"], arrival.have_s, within_m));
        CHECK(near(found[one]["open_on_arrival"], arrival.open, within_share));
        const Place at{found[one]["arrives_m"][0].get<double>(), found[one]["arrives_m"][1].get<double>()};
        const double can =
            play.settings.lateral_speed_mps * std::max(0.0, arrival.have_s - play.settings.see_s);
        CHECK(std::abs(at - play.moment.goalie) <= can + within_m);
        CHECK(near(found[one]["late_s"], arrival.late_s, within_m));
    }
}

void compare_stretch(const Compared& play) {
    const json& found = play.found["advised"];
    const auto& wanted = play.wanted.advised;
    if (!wanted) {
        CHECK(found.is_null());
        CHECK(play.found["left_open_best"].is_null());
        CHECK(play.found["gave_away"].is_null());
        return;
    }
    REQUIRE(found.is_object());
    const double from = found["from_m"].get<double>(), to = found["to_m"].get<double>();
    const double best = found["best_m"].get<double>();
    CHECK(from >= 0.0);
    CHECK(from <= best);
    CHECK(best <= to);
    CHECK(to <= wanted->furthest + within_m);
    CHECK(near(play.found["left_open_best"], wanted->left_best, within_share));
    CHECK(play.left_at(best) <= wanted->left_best + within_share);
    CHECK(near(play.found["gave_away"], play.wanted.gave_away, within_share));
    if (play.moment.puck.imag() >= play.rules.red_line_centre.m) {
        CHECK(found["limit"] == "home");
        CHECK(from == 0.0);
        CHECK(near(found["to_m"], play.settings.home_m, within_m));
        return;
    }
    const double worth = wanted->left_best + play.settings.worth;
    const auto at_an_end = [&](double end, double wanted_end, double last) {
        return std::abs(end - wanted_end) <= within_stretch_m || std::abs(end - last) <= within_m ||
               std::abs(play.left_at(end) - worth) <= within_share;
    };
    // From the blue line on it may begin further in: at the red line it is home, from the goal line on.
    const bool lowered =
        play.wanted.judged_from < wanted->from || play.moment.puck.imag() > play.rules.blue_line_centre.m;
    if (!lowered) CHECK(at_an_end(from, wanted->from, 0.0));
    CHECK(at_an_end(to, wanted->to, wanted->furthest));
    for (int part = 1; part < 20; ++part) {
        const double depth = from + (to - from) * part / 20.0;
        if (!lowered || depth >= wanted->from) CHECK(play.left_at(depth) <= worth + within_share);
    }
}

/// Between the two ends, or so near one that the grids may differ.
bool on_an_edge(double depth, double one, double other) {
    return depth > std::min(one, other) - within_edge_m && depth < std::max(one, other) + within_edge_m;
}

/// What a hair would turn in the verdict; nothing: it is sure.
const char* doubtful(const Compared& play) {
    const auto& doubt = play.wanted.doubt;
    if (doubt.post_m < within_m || doubt.across_m < within_m || doubt.opened_m < within_m ||
        doubt.allowed_m < within_m)
        return "a millimetre";
    if (!play.wanted.advised) return nullptr;
    const auto& stretch = *play.wanted.advised;
    const double tolerance = play.settings.depth_tolerance_m, depth = play.wanted.depth;
    const json& found = play.found["advised"];
    if (on_an_edge(depth, play.wanted.judged_from - tolerance, found["from_m"].get<double>() - tolerance))
        return "the inner end";
    if (on_an_edge(depth, stretch.to + tolerance, found["to_m"].get<double>() + tolerance))
        return "the outer end";
    if (doubt.worth_of_cost < within_cost) return "what is worth acting on";
    return doubt.half_of_cost < within_cost ? "whether it is the passes" : nullptr;
}

void compare_play(const Compared& play) {
    const json& found = play.found;
    CHECK(near(found["shot_open"], play.wanted.shot_open, within_share));
    CHECK(near(found["left_open"], play.wanted.left, within_share));
    compare_arrivals(play);
    compare_stretch(play);
    const auto came = open_to_what_came(play.moment, play.moment.goalie, play.rules, play.settings);
    const json& on_what_came = found["on_what_came"];
    if (!came || !play.wanted.advised) {
        CHECK(on_what_came.is_null());
        return;
    }
    CHECK(near(on_what_came["open"], came, within_share));
    const Place best = on_puck_line(play.moment, found["advised"]["best_m"].get<double>());
    CHECK(near(on_what_came["from_advised"], open_to_what_came(play.moment, best, play.rules, play.settings),
               within_share));
}

} // namespace

TEST_CASE("random plays agree with the model written from its definitions") {
    Dice dice{20261125};
    int compared = 0, judged = 0;
    std::map<std::string, int> words, doubts;
    for (const char* rink : rinks) {
        for (const char* level : levels) {
            const RuleBook& rules = rule_book(*rule_book_from_key(rink));
            std::vector<by_definition::Moment> moments;
            json request{{"ice", true}, {"rink", rink}, {"level", level}, {"moments", json::array()}};
            for (int one = 0; one < moments_each; ++one) {
                moments.push_back(random_moment(dice));
                request["moments"].push_back(request_of(moments.back()));
            }
            const json answers = json::parse(answer_measure(parse_measure_request(request.dump())));
            const Settings settings = settings_of(answers["parameters"]);
            REQUIRE(answers["moments"].size() == moments.size());
            for (std::size_t one = 0; one < moments.size(); ++one) {
                const std::string asked = request["moments"][one].dump();
                CAPTURE(rink);
                CAPTURE(level);
                CAPTURE(asked);
                const by_definition::Answer wanted = by_definition::answer(moments[one], rules, settings);
                const Compared play{answers["moments"][one], moments[one], wanted, rules, settings};
                ++compared;
                CHECK(play.found["on_post"] == wanted.on_post);
                if (play.found["on_post"] != wanted.on_post) continue;
                compare_geometry(play);
                compare_play(play);
                if (const char* why = doubtful(play)) {
                    ++doubts[why];
                    continue;
                }
                ++judged;
                CHECK(play.found["verdict"] == wanted.verdict);
                ++words[wanted.verdict];
                ++words[wanted.band];
            }
        }
    }
    CHECK(compared == 16 * moments_each);
    for (const auto& [why, count] : doubts)
        MESSAGE("verdicts that turn on " << why << ": " << count);
    CHECK((compared - judged) * 50 < compared);
    for (const char* word :
         {"defensive", "conservative", "base", "aggressive", "right_depth", "over_challenged", "too_far_out",
          "sat_back", "off_angle", "beaten_across", "off_the_post"})
        CHECK_MESSAGE(words[word] > (moments_each == moments_in_long_run ? 20 : 0), word, ": ", words[word]);
}
