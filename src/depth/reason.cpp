#include "depth/reason.h"

#include "rink/units.h"

#include <fmt/core.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace ropeline {
namespace {

std::string per_cent(double share) {
    return fmt::format("{:.0f} %", 100.0 * std::clamp(share, 0.0, 1.0));
}

/// "0.26 to 1.24 m", "up to 1.24 m", "1.03 m" when both ends read the same.
std::string stretch(const Advice& advice, LengthUnit unit) {
    const std::string from = in_figures(advice.from_m, unit), to = in_figures(advice.to_m, unit);
    if (from == to) return to;
    if (from == in_figures(0.0, unit)) return "up to " + to;
    return from.substr(0, from.find(' ')) + " to " + to;
}

/// "0.15 m past the paint", "the edge of the paint", "0.30 m inside the paint".
std::string from_paint(double beyond_m, LengthUnit unit) {
    const std::string shown = in_figures(std::abs(beyond_m), unit);
    if (shown == in_figures(0.0, unit)) return "the edge of the paint";
    return fmt::format("{} {} the paint", shown, beyond_m > 0.0 ? "past" : "inside");
}

const char* played(std::optional<Situation> situation) {
    switch (situation.value_or(Situation::zone)) {
    case Situation::rush:
        return "on a rush";
    case Situation::zone:
        return "in zone play";
    case Situation::penalty_kill:
        return "on a penalty kill";
    case Situation::rebound:
        return "on a rebound";
    case Situation::breakaway:
        return "on a breakaway";
    case Situation::neutral_ice:
        return "from neutral ice";
    }
    return "in zone play";
}

/// Why not from further out.
std::string outer_end(const MarkedMoment& moment, const Decision& decision, const RuleBook& rules,
                      LengthUnit unit) {
    const Advice& advice = *decision.advice;
    switch (advice.limit) {
    case Limit::pass:
        return fmt::format("any further out, the {} gets more of the net",
                           advice.threat ? name_of(moment.threats[*advice.threat], moment.puck)
                                         : "second chance beside the puck");
    case Limit::gap:
        return fmt::format("any nearer is less than {} from the puck",
                           in_figures(length(moment.puck) - advice.furthest_m, unit));
    case Limit::situation:
        return fmt::format("{} is the furthest out {}",
                           from_paint(advice.furthest_m - decision.reading.crease_edge_m, unit),
                           played(moment.situation));
    case Limit::inside_paint:
        return "the body says pass and nobody who could shoot is logged: inside the paint";
    case Limit::home:
        return moment.puck.y_m >= rules.red_line_centre.m
                   ? "the puck is at the red line or beyond: stay home"
                   : "the puck is outside the blue line: no need to be further out";
    case Limit::flat:
        return "any further out, the shot itself finds more of the net";
    }
    return {};
}

/// The logged pass that leaves most, weighed by its chance; none when nobody who counts is logged.
std::optional<std::size_t> heaviest(const Decision& decision) {
    std::optional<std::size_t> most;
    const auto weight = [&](std::size_t i) {
        return decision.threats[i].chance * (0.01 + decision.threats[i].open_on_arrival);
    };
    for (std::size_t i = 0; i < decision.threats.size(); ++i) {
        if (!(decision.threats[i].chance > 0.0)) continue;
        if (!most || weight(i) > weight(*most)) most = i;
    }
    return most;
}

std::string on_passes(const MarkedMoment& moment, const Decision& decision) {
    if (moment.threats.empty())
        return moment.situation == Situation::rebound ? "nobody logged beside the loose puck"
                                                      : "no pass option logged";
    const auto most = heaviest(decision);
    if (!most) return "nobody logged could shoot from there";
    const ThreatReading& pass = decision.threats[*most];
    const std::string late = fmt::format("{:.2f}", pass.late_s), spare = fmt::format("{:.2f}", pass.spare_s);
    const std::string when = late != "0.00"    ? fmt::format("the goalie is late by {} s", late)
                             : spare != "0.00" ? fmt::format("the goalie is there with {} s to spare", spare)
                                               : std::string{"the goalie is there just in time"};
    return fmt::format("{}: {}, {} of the net open at that shot", name_of(moment.threats[*most], moment.puck),
                       when, per_cent(pass.open_on_arrival));
}

std::string on_what_came(const MarkedMoment& moment, const Decision& decision) {
    const OnWhatCame& came = *decision.on_what_came;
    const std::string what =
        came.threat ? fmt::format("the {} that came", name_of(moment.threats[*came.threat], moment.puck))
                    : std::string{"the shot that came"};
    const std::string open = per_cent(came.open), advised = per_cent(came.from_advised);
    if (open == advised)
        return fmt::format("once the goalie reacted, {} found {} of the net, as from the best spot", what,
                           open);
    const bool further_out =
        decision.verdict == Verdict::over_challenged || decision.verdict == Verdict::too_far_out;
    return fmt::format("once the goalie reacted, {} found {} of the net, {} from the best spot{}", what, open,
                       advised,
                       further_out && came.open < came.from_advised ? ": further out paid this time" : "");
}

/// What the goalie leaves against the best spot.
std::string on_what_was_left(const Decision& decision) {
    const std::string given = per_cent(*decision.gave_away);
    if (given != "0 %")
        return fmt::format("the goalie leaves {} more of the net than from the best spot{}", given,
                           heaviest(decision) ? ", shot and pass weighed" : "");
    return decision.verdict == Verdict::too_far_out
               ? "the shot is well covered, but it is far to go back to whoever is not logged"
               : "the goalie leaves no more of the net than from the best spot";
}

std::string capital(std::string_view label) {
    std::string text{label};
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

/// "from memory, in doubt: ..." for every level, "...; youth and junior from memory" for those.
bool from_memory(const ParameterFact& fact, Level level) {
    if (fact.source.starts_with("from memory")) return true;
    const auto apart = fact.source.rfind(';');
    if (apart == std::string_view::npos) return false;
    const std::string_view clause = fact.source.substr(apart);
    return clause.find("from memory") != clause.npos && clause.find(key_of(level)) != clause.npos;
}

/// "13.4 to 26.8 m/s", "44.0 to 87.9 ft/s"
std::string range_words(const ParameterFact& fact, const ParameterRange& range, LengthUnit unit) {
    if (unit != LengthUnit::feet || !fact.unit.starts_with('m'))
        return fmt::format("{:g} to {:g} {}", range.low, range.high, fact.unit);
    return fmt::format("{:.1f} to {:.1f} ft{}", to_feet(range.low), to_feet(range.high), fact.unit.substr(1));
}

std::string on_firmness(const Firmness& firmness, Verdict verdict, Level level, LengthUnit unit) {
    if (firmness.turns_on.empty()) return "firm: every trial says the same";
    if (firmness.share >= firm_from)
        return fmt::format("firm: {} of 100 trials say the same", same_of_100(firmness));
    std::string range;
    if (const ParameterFact* fact = find_parameter(firmness.turns_on); fact && fact->stated) {
        const ParameterRange stated = fact->stated->at(static_cast<std::size_t>(level));
        range = fmt::format(" ({}{})", range_words(*fact, stated, unit),
                            from_memory(*fact, level) ? ", no published source" : "");
    }
    return fmt::format("close call: {} of 100 trials say \"{}\", most others \"{}\"; it turns on {}{}",
                       same_of_100(firmness), capital(label_of(verdict)), capital(label_of(firmness.becomes)),
                       label_of_turn(firmness.turns_on), range);
}

std::string too_far(const Decision& decision, LengthUnit unit) {
    return in_words(decision.reading.depth_m - decision.advice->to_m, unit);
}

/// A loose puck has a second chance that nobody logged.
const char* too_far_for(const Decision& decision) {
    return heaviest(decision) ? "to get to the pass" : "for a second chance beside the puck";
}

constexpr double wide_stretch_m = 1.5; ///< own proposal: a stretch this long advises little

/// What a right depth has to say for itself: the tolerance, a post a little open and what was out
/// of reach cost something too.
std::string right_because(const Decision& decision) {
    if (decision.on_post) return "on the post, at that sharp an angle";
    const Advice& advice = *decision.advice;
    const auto& reach = decision.within_reach;
    const double out_m = decision.reading.depth_m;
    if (reach && advice.from_m >= reach->furthest_m) return "as far out as the time allowed";
    const bool inside = out_m >= advice.from_m && out_m <= advice.to_m;
    if (inside && advice.to_m - advice.from_m >= wide_stretch_m) return "depth makes little difference here";
    if (per_cent(decision.gave_away.value_or(0.0)) == "0 %")
        return "nothing to gain further out or further back";
    return inside ? "within what is advised" : "close enough to what is advised";
}

std::string stood(const Decision& decision, LengthUnit unit) {
    const double out_m = decision.reading.depth_m;
    return out_m < 0.0 ? "on the wrong side of the net's middle" : in_figures(out_m, unit) + " out";
}

std::string beside_line(const Decision& decision, LengthUnit unit) {
    return fmt::format("{} off the puck line, to the goalie's {}",
                       in_words(std::abs(decision.reading.off_angle_m), unit),
                       decision.reading.off_angle_m > 0.0 ? "right" : "left");
}

/// What the time since the moment before allowed.
std::string on_reach(const WithinReach& reach, LengthUnit unit) {
    if (reach.line)
        return fmt::format("since the moment before, the goalie could be up to {} out",
                           in_figures(reach.furthest_m, unit));
    const std::string push = in_figures(reach.push_m, unit);
    return fmt::format("{} to the puck's new line, {}", in_figures(reach.beside_m, unit),
                       push == in_figures(0.0, unit) ? "no time to push" : "time for " + push);
}

} // namespace

std::string in_figures(double metres, LengthUnit unit) {
    if (unit == LengthUnit::feet) return fmt::format("{:.1f} ft", to_feet(metres));
    return fmt::format("{:.2f} m", metres);
}

std::string in_words(double metres, LengthUnit unit) {
    if (unit == LengthUnit::metres) return fmt::format("{:.1f} m", metres);
    if (unit == LengthUnit::feet) return fmt::format("{:.1f} ft", to_feet(metres));
    const double halves = std::max(1.0, std::round(2.0 * metres / skate_length_m));
    if (halves == 1.0) return "half a skate length";
    if (halves == 2.0) return "a skate length";
    return fmt::format("{:g} skate lengths", halves / 2.0);
}

std::string name_of(const Threat& threat, IcePoint puck) {
    const char* kind = threat.kind == ReceiverKind::one_timer ? "one-timer"
                       : threat.kind == ReceiverKind::tip     ? "tip"
                                                              : "pass";
    if (puck.x_m == 0.0) return fmt::format("{} on the {}", kind, threat.at.x_m < 0.0 ? "left" : "right");
    return fmt::format("{} on the {} side", kind, threat.at.x_m * puck.x_m < 0.0 ? "far" : "puck");
}

std::string headline_for(const Decision& decision, LengthUnit unit) {
    const std::string word = capital(label_of(decision.verdict));
    switch (decision.verdict) {
    case Verdict::right_depth:
        return fmt::format("{}: {}", word, right_because(decision));
    case Verdict::over_challenged:
        return fmt::format("{}: {} too far out {}", word, too_far(decision, unit), too_far_for(decision));
    case Verdict::too_far_out:
        return fmt::format("{}: by {}", word, too_far(decision, unit));
    case Verdict::sat_back:
        return fmt::format("{}: there was time and room for {} further out", word,
                           in_words(decision.advice->from_m - decision.reading.depth_m, unit));
    case Verdict::off_angle:
        return fmt::format("{}: {}", word, beside_line(decision, unit));
    case Verdict::beaten_across:
        return fmt::format("{}: the puck went across faster than a goalie could follow", word);
    case Verdict::off_the_post:
        return word + ": at that sharp an angle the place is on the post";
    case Verdict::not_judged:
        break;
    }
    return word + ": goalie, puck or a receiver has no place on the ice";
}

std::vector<std::string> figure_parts_for(const MarkedMoment& moment, const Decision& decision,
                                          const std::optional<Firmness>& firmness, Level level,
                                          const RuleBook& rules, LengthUnit unit) {
    if (decision.verdict == Verdict::not_judged) return {"mark it again"};
    std::vector<std::string> parts;
    if (decision.advice) {
        parts.push_back(fmt::format("{}, advised {}: {}", stood(decision, unit),
                                    stretch(*decision.advice, unit),
                                    outer_end(moment, decision, rules, unit)));
    } else {
        parts.push_back(
            fmt::format("{}; at that sharp an angle the post matters, not depth", stood(decision, unit)));
    }
    if (const auto& reach = decision.within_reach; reach && decision.advice) {
        parts.push_back(on_reach(*reach, unit));
    }
    if (moment.set == false) parts.emplace_back("still moving");
    if (decision.verdict == Verdict::off_angle && decision.opened) {
        parts.push_back(fmt::format("that opens {} of goal line on the goalie's {} side",
                                    in_figures(decision.opened->length_m, unit),
                                    decision.opened->left ? "left" : "right"));
    }
    parts.push_back(on_passes(moment, decision));
    if (decision.gave_away) parts.push_back(on_what_was_left(decision));
    if (decision.on_what_came) parts.push_back(on_what_came(moment, decision));
    if (firmness) parts.push_back(on_firmness(*firmness, decision.verdict, level, unit));
    return parts;
}

std::string figures_for(const MarkedMoment& moment, const Decision& decision,
                        const std::optional<Firmness>& firmness, Level level, const RuleBook& rules,
                        LengthUnit unit) {
    return fmt::format("{}",
                       fmt::join(figure_parts_for(moment, decision, firmness, level, rules, unit), "; "));
}

std::string reason_for(const MarkedMoment& moment, const Decision& decision,
                       const std::optional<Firmness>& firmness, Level level, const RuleBook& rules,
                       LengthUnit unit) {
    return fmt::format("{}; {}.", headline_for(decision, unit),
                       figures_for(moment, decision, firmness, level, rules, unit));
}

std::string advice_for(const MarkedMoment& moment, const Decision& decision, const RuleBook& rules,
                       LengthUnit unit) {
    if (!decision.advice) return decision.on_post ? "On the post: the angle is too sharp for depth." : "";
    return fmt::format("{} out: {}.", capital(stretch(*decision.advice, unit)),
                       outer_end(moment, decision, rules, unit));
}

} // namespace ropeline
