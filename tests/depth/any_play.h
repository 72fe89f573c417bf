// Any play in the rink, for the properties: drawn by rapidcheck, in ten thousand tries.
#pragma once

#include "depth/verdict.h"
#include "rink/units.h"

#include <rapidcheck.h>

#include <cstdlib>
#include <iostream>
#include <vector>

namespace ropeline::any {

/// Under the sanitizers a play takes thirty times as long, and it is memory that is looked at: so many times fewer
/// are made there. Not so in a long run.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline const int fewer = std::getenv("ROPELINE_LONG_TESTS") ? 1 : 16;
#else
inline constexpr int fewer = 1;
#endif

/// As rc::check, with ten thousand plays.
template <class Property>
bool ten_thousand(Property property) {
    rc::detail::TestParams many = rc::detail::configuration().testParams;
    many.maxSuccess = 10'000 / fewer;
    const auto result = rc::detail::checkTestable(property, rc::detail::TestMetadata{}, many);
    if (result.template is<rc::detail::SuccessResult>()) return true;
    rc::detail::printResultMessage(result, std::cerr);
    return false;
}

inline double between(double low, double high) {
    return low + (high - low) * *rc::gen::inRange(0, 1'000'000) / 1e6;
}
inline IcePoint anywhere() {
    return {between(-13.0, 13.0), between(-4.0, 30.0)};
}
/// More often where chances come from.
inline IcePoint often_near() {
    return *rc::gen::inRange(0, 4) == 0 ? anywhere() : IcePoint{between(-8.0, 8.0), between(0.2, 14.0)};
}

/// A moment that owns what it looks into: pass it on by reference.
struct AnyMoment {
    AnyMoment() = default;
    AnyMoment(AnyMoment&&) = default;
    AnyMoment& operator=(AnyMoment&&) = default;

    const RuleBook* rules = nullptr;
    Level level{};
    Parameters parameters;
    std::vector<Threat> threats;
    MarkedMoment moment;
};

inline AnyMoment any_moment() {
    AnyMoment any;
    any.rules = &rule_books()[static_cast<std::size_t>(*rc::gen::inRange(0, 4))];
    any.level = static_cast<Level>(*rc::gen::inRange(0, 4));
    any.parameters = parameters_for(any.level);
    any.threats.resize(static_cast<std::size_t>(*rc::gen::inRange(0, 4)));
    for (Threat& threat : any.threats)
        threat = {often_near(), static_cast<ReceiverKind>(*rc::gen::inRange(0, 3)),
                  static_cast<Lane>(*rc::gen::inRange(0, 2)), false};
    if (!any.threats.empty()) any.threats.front().took = *rc::gen::arbitrary<bool>();
    MarkedMoment& moment = any.moment;
    moment.puck = often_near();
    const IcePoint line = puck_line(moment.puck);
    moment.stance =
        stance_from_mark(*rc::gen::inRange(0, 3) == 0
                             ? IcePoint{between(-2.0, 2.0), between(-0.5, 4.0)}
                             : line * between(0.0, 3.0) + IcePoint{line.y_m, -line.x_m} * between(-0.3, 0.3));
    moment.threats = any.threats;
    moment.situation = static_cast<Situation>(*rc::gen::inRange(0, 6));
    moment.likelihood = static_cast<Likelihood>(*rc::gen::inRange(0, 3));
    moment.sight = static_cast<Sight>(*rc::gen::inRange(0, 3));
    moment.next = static_cast<NextAction>(*rc::gen::inRange(0, 4));
    if (*rc::gen::inRange(0, 3) == 0)
        moment.before = Before{{between(-1.5, 1.5), between(0.2, 2.5)}, between(0.0, 1.5)};
    return any;
}

/// With every place said in feet and read in metres again.
inline AnyMoment in_feet_and_back(const AnyMoment& any) {
    const auto turned = [](IcePoint at) {
        return IcePoint{from_feet(to_feet(at.x_m)), from_feet(to_feet(at.y_m))};
    };
    AnyMoment same;
    same.rules = any.rules;
    same.level = any.level;
    same.parameters = any.parameters;
    same.threats = any.threats;
    for (Threat& threat : same.threats)
        threat.at = turned(threat.at);
    same.moment = any.moment;
    same.moment.puck = turned(any.moment.puck);
    same.moment.stance = stance_from_mark(turned(any.moment.stance.goalie));
    if (same.moment.before) same.moment.before->goalie = turned(any.moment.before->goalie);
    same.moment.threats = same.threats;
    return same;
}

inline AnyMoment mirrored(const AnyMoment& any) {
    const auto turned = [](IcePoint at) { return IcePoint{-at.x_m, at.y_m}; };
    AnyMoment mirror;
    mirror.rules = any.rules;
    mirror.level = any.level;
    mirror.parameters = any.parameters;
    mirror.threats = any.threats;
    for (Threat& threat : mirror.threats)
        threat.at = turned(threat.at);
    mirror.moment = any.moment;
    mirror.moment.puck = turned(any.moment.puck);
    mirror.moment.stance = stance_from_mark(turned(any.moment.stance.goalie));
    if (mirror.moment.before) mirror.moment.before->goalie = turned(any.moment.before->goalie);
    mirror.moment.threats = mirror.threats;
    return mirror;
}

} // namespace ropeline::any
