#include "depth/reason.h"

#include "rink/units.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

std::string metres_or_feet(double metres, LengthUnit unit) {
    return unit == LengthUnit::feet ? fmt::format("{:.1f} ft", to_feet(metres))
                                    : fmt::format("{:.2f} m", metres);
}

/// "one-timer on the far side": the far side is the one the puck is not on.
std::string name_of(const Threat& threat, IcePoint puck) {
    const char* kind = threat.one_timer ? "one-timer" : "pass";
    if (puck.x_m == 0.0) return fmt::format("{} to the {}", kind, threat.at.x_m < 0.0 ? "left" : "right");
    const bool across = threat.at.x_m * puck.x_m < 0.0;
    return fmt::format("{} on the {} side", kind, across ? "far" : "puck");
}

std::string more_or_less(double error_m, LengthUnit unit) {
    if (std::abs(error_m) < 0.005) return "just as advised";
    return fmt::format("{} {} than advised", metres_or_feet(std::abs(error_m), unit),
                       error_m > 0.0 ? "more" : "less");
}

std::string beside(const Decision& decision, LengthUnit unit) {
    return fmt::format("{} to the {} of the puck line",
                       metres_or_feet(std::abs(decision.reading.off_angle_m), unit),
                       decision.reading.off_angle_m > 0.0 ? "right" : "left");
}

std::string on_shot(const Decision& decision, LengthUnit unit) {
    const std::string out = metres_or_feet(decision.reading.depth_m, unit);
    switch (decision.verdict) {
    case Verdict::sat_back: {
        const auto& coverage = decision.reading.coverage;
        const std::string seen =
            coverage ? fmt::format(" and the shot saw {:.0f} % of the net", 100.0 * coverage->net_seen) : "";
        return fmt::format("Sat back: {} out where {} was there to take{}", out,
                           metres_or_feet(decision.advice.depth_m, unit), seen);
    }
    case Verdict::off_angle:
    case Verdict::late:
        return fmt::format("{}: {}, which opens {} of the net at one post",
                           decision.verdict == Verdict::late ? "Late: still moving at the release and"
                                                             : "Off angle",
                           beside(decision, unit), metres_or_feet(decision.opened_m.value_or(0.0), unit));
    default:
        return fmt::format("Right read: {} out, {}, on the puck line, and the shot came", out,
                           more_or_less(decision.depth_error_m, unit));
    }
}

std::string on_pass(const MarkedMoment& moment, const Decision& decision, LengthUnit unit) {
    const std::string out = metres_or_feet(decision.reading.depth_m, unit);
    const ThreatReading& pass = decision.threats.at(*decision.threat);
    const std::string name = name_of(moment.threats[*decision.threat], moment.puck);
    const std::string short_by = fmt::format("{:.2f} s", std::abs(pass.margin_s));
    switch (decision.verdict) {
    case Verdict::over_challenged: {
        const std::string from = pass.reach_depth_m ? metres_or_feet(*pass.reach_depth_m, unit) : out;
        return fmt::format("Over-challenged: {} out, {}, and the {} is {} too far away; from {} it could be "
                           "reached",
                           out, more_or_less(decision.depth_error_m, unit), name, short_by, from);
    }
    case Verdict::off_angle:
        return fmt::format("Off angle: {}, so the {} is {} too far away though {} out was not too much",
                           beside(decision, unit), name, short_by, out);
    default:
        if (pass.margin_s < 0.0)
            return fmt::format("Right read: the {} could not be reached from the advised depth either", name);
        return fmt::format("Right read: {} out, and every pass could be reached, the {} with {} to spare",
                           out, name, short_by);
    }
}

std::string not_judged(const MarkedMoment& moment, LengthUnit unit, const Advice& advice) {
    const char* missing = !moment.next                      ? "the next action is not known"
                          : moment.next == NextAction::pass ? "a pass came and no threat is marked"
                                                            : "neither a shot nor a pass came";
    return fmt::format("Not judged: {}; advised are {} out", missing, metres_or_feet(advice.depth_m, unit));
}

std::string firmness(std::span<const Flip> flips, Level level) {
    if (flips.empty()) return "this holds over the stated range of every parameter";
    const Flip& flip = flips.front();
    const ParameterFact& fact = *find_parameter(flip.parameter);
    const ParameterRange range = fact.stated.value().at(static_cast<std::size_t>(level));
    const bool memory = fact.source.find("from memory") != std::string_view::npos;
    return fmt::format("it would be {} at a {} of {:.3g} {} (stated range {:g} to {:g} {}{})",
                       label_of(flip.becomes), fact.label, flip.value, fact.unit, range.low, range.high,
                       fact.unit, memory ? ", from memory" : "");
}

} // namespace

std::string reason_for(const MarkedMoment& moment, const Decision& decision, std::span<const Flip> flips,
                       Level level, LengthUnit unit) {
    if (decision.verdict == Verdict::not_judged) return not_judged(moment, unit, decision.advice) + ".";
    const std::string why =
        moment.next == NextAction::shot ? on_shot(decision, unit) : on_pass(moment, decision, unit);
    return fmt::format("{}; {}.", why, firmness(flips, level));
}

std::string advice_for(const MarkedMoment& moment, const Advice& advice, LengthUnit unit) {
    const std::string out = metres_or_feet(advice.depth_m, unit);
    const std::string pass = advice.threat ? name_of(moment.threats[*advice.threat], moment.puck) : "";
    switch (advice.limit) {
    case Limit::home:
        return fmt::format("Home, {} out: the puck is at the red line or beyond.", out);
    case Limit::conservative:
        return fmt::format("{} out, inside the paint: {}.", out,
                           moment.situation == Situation::rebound ? "nobody knows the next bounce"
                                                                  : "a pass is likely");
    case Limit::pass:
        return fmt::format("{} out: the {} could not be reached from further out.", out, pass);
    case Limit::defensive:
        return fmt::format("{} out, as deep as it goes: the {} asks for less still.", out, pass);
    case Limit::cap:
        break;
    }
    return fmt::format("{} out, the most for the situation: every pass still allows it.", out);
}

} // namespace ropeline
