// Every number and every reason of a sentence, read back out of it and held against the figures, in metres,
// feet and skate lengths: 40 000 plays.
#include "depth/any_play.h"
#include "depth/coverage.h"
#include "depth/reason.h"
#include "depth/usual.h"
#include "rink/units.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <map>
#include <regex>
#include <string>

using namespace ropeline;
using namespace ropeline::usual;
using namespace ropeline::any;

namespace {

/// A pattern takes longer to read than to look for: each is read once.
std::smatch found(const std::string& text, const std::string& pattern) {
    static std::map<std::string, std::regex> patterns;
    const auto known = patterns.try_emplace(pattern, pattern).first;
    std::smatch match;
    std::regex_search(text, match, known->second);
    return match;
}
/// Half a unit of the last place shown.
bool rounds_to(double value, const std::string& shown, double unit) {
    return std::abs(value - std::stod(shown)) <= 0.5001 * unit;
}
bool is_per_cent(double share, const std::string& shown) {
    return rounds_to(100.0 * std::clamp(share, 0.0, 1.0), shown, 1.0);
}

/// As said in a headline: "1.2 m", "3.9 ft", "half a skate length", "a skate length", "2.5 skate lengths".
bool is_said(double metres, const std::string& text, const std::string& before, LengthUnit unit) {
    if (unit != LengthUnit::skate_lengths) {
        const bool feet = unit == LengthUnit::feet;
        const auto match = found(text, before + (feet ? "([0-9.]+) ft" : "([0-9.]+) m"));
        return !match.empty() && rounds_to(feet ? to_feet(metres) : metres, match[1], 0.1);
    }
    const auto match = found(text, before + "(half a|a|[0-9.]+) skate length(s?)");
    if (match.empty()) return false;
    const std::string count = match[1];
    const double lengths = count == "half a" ? 0.5 : count == "a" ? 1.0 : std::stod(count);
    const bool least = count == "half a" && metres < 0.5 * skate_length_m; // no less is said
    return (least || std::abs(metres / skate_length_m - lengths) <= 0.2501) &&
           (match[2] == "s") == (lengths > 1.0);
}

void check_headline(const MarkedMoment& moment, const Decision& decision, LengthUnit unit) {
    const std::string text = headline_for(decision, unit);
    const double out_m = decision.reading.depth_m;
    const bool somebody =
        std::ranges::any_of(decision.threats, [](const ThreatReading& one) { return one.chance > 0.0; });
    switch (decision.verdict) {
    case Verdict::over_challenged:
        RC_ASSERT(is_said(out_m - decision.advice->to_m, text, "^Over-challenged: ", unit));
        RC_ASSERT(says(text, "to get to the pass") == somebody);
        RC_ASSERT(somebody || moment.situation == Situation::rebound);
        break;
    case Verdict::too_far_out:
        RC_ASSERT(is_said(out_m - decision.advice->to_m, text, "^Too far out: by ", unit));
        break;
    case Verdict::sat_back:
        RC_ASSERT(
            is_said(decision.advice->from_m - out_m, text, "^Sat back: there was time and room for ", unit));
        break;
    case Verdict::off_angle:
        RC_ASSERT(is_said(std::abs(decision.reading.off_angle_m), text, "^Off angle: ", unit));
        break;
    case Verdict::right_depth:
        RC_ASSERT(says(text, "on the post") == decision.on_post);
        if (says(text, "nothing to gain")) RC_ASSERT(*decision.gave_away < 0.00501);
        if (says(text, "little difference"))
            RC_ASSERT(decision.advice->to_m - decision.advice->from_m >= 1.5);
        if (says(text, "within what") || says(text, "little difference"))
            RC_ASSERT(out_m >= decision.advice->from_m && out_m <= decision.advice->to_m);
        if (says(text, "close enough"))
            RC_ASSERT(out_m < decision.advice->from_m || out_m > decision.advice->to_m);
        if (says(text, "the time allowed"))
            RC_ASSERT(decision.within_reach && decision.within_reach->furthest_m <= decision.advice->from_m);
        break;
    case Verdict::beaten_across:
        RC_ASSERT(!decision.within_reach->line);
        break;
    case Verdict::off_the_post:
        RC_ASSERT(decision.on_post && !decision.at_post);
        break;
    case Verdict::not_judged:
        RC_FAIL("every place is known here");
    }
}

/// Is it at the post on the goalie's left that more is in sight than from the same depth on the puck line?
bool opens_left(const AnyMoment& any, const Decision& decision) {
    const auto open_from = [&](IcePoint goalie) {
        return *open_at_posts(stance_from_mark(goalie), any.moment.puck, *any.rules,
                              any.parameters.block_width_m);
    };
    const OpenAtPosts now = open_from(any.moment.stance.goalie);
    const OpenAtPosts on_line =
        open_from(puck_line(any.moment.puck) * std::max(decision.reading.depth_m, 0.0));
    return now.left_m - on_line.left_m > now.right_m - on_line.right_m;
}

/// The figures' lengths: metres to the centimetre or feet to the tenth.
void check_lengths(const AnyMoment& any, const Decision& decision, const std::string& text, LengthUnit unit) {
    const bool feet = unit == LengthUnit::feet;
    const std::string length = feet ? "(-?[0-9.]+) ft" : "(-?[0-9.]+) m";
    const auto is = [&](double metres, const std::string& shown) {
        return rounds_to(feet ? to_feet(metres) : metres, shown, feet ? 0.1 : 0.01);
    };
    if (const auto match = found(text, "^" + length + " out"); !match.empty())
        RC_ASSERT(is(decision.reading.depth_m, match[1]));
    else
        RC_ASSERT(decision.reading.depth_m < 0.0 &&
                  text.starts_with("on the wrong side of the net's middle"));
    RC_ASSERT(!says(text, feet ? " m " : " ft "));
    if (const auto match = found(text, "less than " + length + " from the puck"); !match.empty())
        RC_ASSERT(decision.advice->limit == Limit::gap);
    if (const auto match = found(text, "the goalie could be up to " + length + " out"); !match.empty())
        RC_ASSERT(is(decision.within_reach->furthest_m, match[1]));
    if (const auto match = found(text, length + " to the puck's new line, (no time|time for " + length + ")");
        !match.empty()) {
        RC_ASSERT(is(decision.within_reach->beside_m, match[1]));
        RC_ASSERT(is(decision.within_reach->push_m, match[3].matched ? match[3].str() : "0"));
    }
    if (const auto match = found(text, "opens " + length + " of goal line on the goalie's (left|right) side");
        !match.empty()) {
        RC_ASSERT(is(decision.opened->length_m, match[1]));
        RC_ASSERT((match[2] == "left") == opens_left(any, decision));
    }
    if (const auto match = found(text, length + " (past|inside) the paint is the furthest"); !match.empty()) {
        const double beyond_m = decision.advice->furthest_m - decision.reading.crease_edge_m;
        RC_ASSERT(is(std::abs(beyond_m), match[1]));
        RC_ASSERT((match[2] == "past") == (beyond_m > 0.0));
    }
}

/// The pass that is spoken of is one of those marked, with its own side, time and share.
void check_pass(const MarkedMoment& moment, const Decision& decision, const std::string& text) {
    const auto told =
        found(text, "; ([^;]+): the goalie is (late by ([0-9.]+) s|there with ([0-9.]+) s to spare|"
                    "there just in time), ([0-9]+) % of the net open at that shot");
    if (told.empty()) return;
    bool its_own = false;
    for (std::size_t i = 0; i < moment.threats.size(); ++i) {
        const ThreatReading& pass = decision.threats[i];
        const bool when = told[3].matched   ? pass.late_s > 0.0 && rounds_to(pass.late_s, told[3], 0.01)
                          : told[4].matched ? pass.spare_s > 0.0 && rounds_to(pass.spare_s, told[4], 0.01)
                                            : pass.late_s < 0.00501 && pass.spare_s < 0.00501;
        its_own = its_own || (name_of(moment.threats[i], moment.puck) == told[1].str() && when &&
                              is_per_cent(pass.open_on_arrival, told[5]));
    }
    RC_ASSERT(its_own);
    const IcePoint puck = moment.puck;
    for (const Threat& threat : moment.threats) {
        const std::string name = name_of(threat, puck);
        if (says(name, "far side")) RC_ASSERT(threat.at.x_m * puck.x_m < 0.0);
        if (says(name, "puck side")) RC_ASSERT(threat.at.x_m * puck.x_m >= 0.0);
        RC_ASSERT(says(name, "one-timer") == (threat.kind == ReceiverKind::one_timer));
        RC_ASSERT(says(name, "tip") == (threat.kind == ReceiverKind::tip));
    }
}

void check_shares(const Decision& decision, const Firmness& firmness, const std::string& text) {
    if (const auto match = found(text, "the goalie leaves ([0-9]+) % more of the net"); !match.empty())
        RC_ASSERT(is_per_cent(*decision.gave_away, match[1]));
    if (says(text, "leaves no more of the net") || says(text, "far to go back"))
        RC_ASSERT(*decision.gave_away < 0.00501);
    if (says(text, "further out paid"))
        RC_ASSERT(decision.on_what_came->open < decision.on_what_came->from_advised &&
                  decision.reading.depth_m > decision.advice->to_m);
    if (const auto match = found(text, "that came found ([0-9]+) % of the net, ([0-9]+) % from");
        !match.empty()) {
        RC_ASSERT(is_per_cent(decision.on_what_came->open, match[1]));
        RC_ASSERT(is_per_cent(decision.on_what_came->from_advised, match[2]));
    }
    if (says(text, "as from the best spot"))
        RC_ASSERT(std::abs(decision.on_what_came->open - decision.on_what_came->from_advised) < 0.01001);
    RC_ASSERT(says(text, "firm: ") == (firmness.share >= firm_from));
    if (const auto match = found(text, "(firm|close call): ([0-9]+) of 100 trials say (the same|\"[A-Z])");
        !match.empty()) {
        const int said = std::stoi(match[2]);
        RC_ASSERT(said <= 100.0 * firmness.share + 1e-6);
        RC_ASSERT(said > 100.0 * firmness.share - 1.0);
        RC_ASSERT((said >= 90) == (match[1] == "firm"));
    }
    RC_ASSERT(says(text, "every trial") == firmness.turns_on.empty());
}

/// Why not from further out: what is named is what finds more there.
void check_outer_end(const AnyMoment& any, const Decision& decision, const std::string& text) {
    if (!decision.advice) return;
    const Advice& advice = *decision.advice;
    const auto play = play_of(play_marks(any.moment), *any.rules, any.parameters);
    const IcePoint line = puck_line(any.moment.puck);
    const IcePoint best = line * advice.best_m,
                   beyond = line * std::min(advice.to_m + 0.1, advice.furthest_m);
    RC_ASSERT(says(text, "the shot itself finds more of the net") == (advice.limit == Limit::flat));
    if (any.moment.puck.y_m > any.rules->red_line_centre.m - 1.0) return; // the stretch grows into home
    if (advice.limit == Limit::flat) RC_ASSERT(shot_open(play, beyond) > shot_open(play, best));
    if (advice.limit != Limit::pass) return;
    const std::size_t first = advice.threat.value_or(play.marked); // nobody: either side of a loose puck
    const std::size_t past = advice.threat ? first + 1 : play.threats.size();
    bool finds_more = false;
    for (std::size_t i = first; i < past; ++i)
        finds_more = finds_more || open_after_push(play.threats[i], beyond, play.blocking) >
                                       open_after_push(play.threats[i], best, play.blocking);
    RC_ASSERT(finds_more);
}

} // namespace

TEST_CASE("every number and every reason of a sentence is its play's") {
    for (int times = 0; times < 4; ++times) {
        CHECK(ten_thousand([] {
            const AnyMoment any = any_moment();
            const Decision decision = decide(any.moment, *any.rules, any.parameters);
            Firmness firmness{between(0.0, 0.9999), "lateral_speed_mps", Verdict::sat_back};
            if (*rc::gen::inRange(0, 4) == 0) firmness = {1.0, {}, {}};
            const auto unit = static_cast<LengthUnit>(*rc::gen::inRange(0, 3));
            check_headline(any.moment, decision, unit);
            const std::string text = figures_for(any.moment, decision, firmness, any.level, *any.rules, unit);
            check_lengths(any, decision, text, unit);
            check_pass(any.moment, decision, text);
            check_shares(decision, firmness, text);
            check_outer_end(any, decision, text);
        }));
    }
}

TEST_CASE("a range is without a source only where its source says so") {
    MarkedMoment moment;
    moment.puck = {5.0, 9.0};
    moment.stance = stance_from_mark(puck_line(moment.puck) * 1.5);
    const auto unsourced = [&](std::string_view turns_on, Level level) {
        const Decision decision = decide(moment, nhl, parameters_for(level));
        return says(figures_for(moment, decision, Firmness{0.5, turns_on, Verdict::sat_back}, level, nhl),
                    "no published source");
    };
    CHECK(unsourced("lateral_speed_mps", Level::senior));
    CHECK(unsourced("pass_speed_mps", Level::youth));
    CHECK_FALSE(unsourced("pass_speed_mps", Level::senior));
    CHECK(unsourced("shot_speed_mps", Level::junior));
    CHECK_FALSE(unsourced("shot_speed_mps", Level::elite));
}

TEST_CASE("a range of speeds is said in the coach's unit of length") {
    MarkedMoment moment;
    moment.puck = {5.0, 9.0};
    moment.stance = stance_from_mark(puck_line(moment.puck) * 1.5);
    const auto said = [&](LengthUnit unit) {
        return figures_for(moment, decide(moment, nhl, parameters_for(Level::senior)),
                           Firmness{0.5, "pass_speed_mps", Verdict::sat_back}, Level::senior, nhl, unit);
    };
    // 13.4 m/s are 44.0 feet a second, 26.8 are 87.9: a foot is 0.3048 m.
    CHECK(says(said(LengthUnit::metres), "pass speed (13.4 to 26.8 m/s)"));
    CHECK(says(said(LengthUnit::feet), "pass speed (44.0 to 87.9 ft/s)"));
}
