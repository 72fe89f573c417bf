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
std::string outer_end(const MarkedMoment& moment, const Advice& advice, const RuleBook& rules,
                      LengthUnit unit) {
    switch (advice.limit) {
    case Limit::pass:
        return fmt::format("from further out the {} finds more open",
                           advice.threat ? name_of(moment.threats[*advice.threat], moment.puck)
                                         : "second chance beside the puck");
    case Limit::gap:
        return fmt::format("any nearer and he is less than {} from the puck",
                           in_figures(length(moment.puck) - advice.furthest_m, unit));
    case Limit::situation:
        return fmt::format("that is the furthest out {}", played(moment.situation));
    case Limit::inside_paint:
        return "the body says pass and nobody who could shoot is marked: inside the paint";
    case Limit::home:
        return moment.puck.y_m >= rules.red_line_centre.m
                   ? "the puck is at the red line or beyond: home"
                   : "the puck is beyond the blue line: on the way home";
    case Limit::flat:
        return "further out, the shot itself finds more open";
    }
    return {};
}

/// The marked pass that leaves most, weighed by its chance; none when nobody who counts is marked.
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
        return moment.situation == Situation::rebound ? "no receiver marked beside the loose puck"
                                                      : "no pass marked";
    const auto most = heaviest(decision);
    if (!most) return "nobody marked could shoot from where he is";
    const ThreatReading& pass = decision.threats[*most];
    const std::string late = fmt::format("{:.2f}", pass.late_s), spare = fmt::format("{:.2f}", pass.spare_s);
    const std::string when = late != "0.00"    ? fmt::format("late by {} s", late)
                             : spare != "0.00" ? fmt::format("there with {} s to spare", spare)
                                               : std::string{"there just in time"};
    return fmt::format("{}: {}, {} of the net open at his shot", name_of(moment.threats[*most], moment.puck),
                       when, per_cent(pass.open_on_arrival));
}

std::string on_what_came(const MarkedMoment& moment, const OnWhatCame& came) {
    const std::string what =
        came.threat ? fmt::format("the {} that came", name_of(moment.threats[*came.threat], moment.puck))
                    : std::string{"the shot that came"};
    const std::string open = per_cent(came.open), advised = per_cent(came.from_advised);
    if (open == advised) return fmt::format("{} found {} open, as from the best spot", what, open);
    return fmt::format("{} found {} open, {} from the best spot", what, open, advised);
}

/// "from memory, in doubt: ..." for every level, "...; youth and junior from memory" for those.
bool from_memory(const ParameterFact& fact, Level level) {
    if (fact.source.starts_with("from memory")) return true;
    const auto apart = fact.source.rfind(';');
    if (apart == std::string_view::npos) return false;
    const std::string_view clause = fact.source.substr(apart);
    return clause.find("from memory") != clause.npos && clause.find(key_of(level)) != clause.npos;
}

std::string on_firmness(const Firmness& firmness, Level level) {
    const std::string share = per_cent(firmness.share);
    if (firmness.turns_on.empty()) return "firm: every try says the same";
    if (firmness.share >= firm_from) return fmt::format("firm: {} of tries say the same", share);
    std::string range;
    if (const ParameterFact* fact = find_parameter(firmness.turns_on); fact && fact->stated) {
        const ParameterRange stated = fact->stated->at(static_cast<std::size_t>(level));
        range = fmt::format(" ({:g} to {:g} {}{})", stated.low, stated.high, fact->unit,
                            from_memory(*fact, level) ? ", from memory" : "");
    }
    return fmt::format("close call: {} of tries say the same, most others {}; it turns on {}{}", share,
                       label_of(firmness.becomes), label_of_turn(firmness.turns_on), range);
}

std::string too_far(const Decision& decision, LengthUnit unit) {
    return in_words(decision.reading.depth_m - decision.advice->to_m, unit);
}

/// A loose puck has a second chance that nobody marked.
const char* too_far_for(const Decision& decision) {
    return heaviest(decision) ? "to get to the pass" : "for a second chance beside the puck";
}

/// What a right depth has to say for itself: the tolerance, a post a little open and what was out
/// of reach cost something too.
std::string right_because(const Decision& decision) {
    if (decision.on_post) return "on the post, with the puck that low";
    const auto& reach = decision.within_reach;
    if (reach && decision.advice->from_m >= reach->furthest_m) return "as far out as the time let him";
    if (per_cent(decision.gave_away.value_or(0.0)) == "0 %") return "he leaves no more than need be";
    return "close enough to what is advised";
}

std::string stood(const Decision& decision, LengthUnit unit) {
    const double out_m = decision.reading.depth_m;
    return out_m < 0.0 ? "on the wrong side of the net's middle" : in_figures(out_m, unit) + " out";
}

std::string beside_line(const Decision& decision, LengthUnit unit) {
    return fmt::format("{} to the {} of the puck line",
                       in_words(std::abs(decision.reading.off_angle_m), unit),
                       decision.reading.off_angle_m > 0.0 ? "right" : "left");
}

std::string capital(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
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
    const std::string word = capital(std::string{label_of(decision.verdict)});
    switch (decision.verdict) {
    case Verdict::right_depth:
        return fmt::format("{}: {}", word, right_because(decision));
    case Verdict::over_challenged:
        return fmt::format("{}: {} too far out {}", word, too_far(decision, unit), too_far_for(decision));
    case Verdict::too_far_out:
        return fmt::format("{}: by {}", word, too_far(decision, unit));
    case Verdict::sat_back:
        return fmt::format("{}: {} more was there to take", word,
                           in_words(decision.advice->from_m - decision.reading.depth_m, unit));
    case Verdict::off_angle:
        return fmt::format("{}: {}", word, beside_line(decision, unit));
    case Verdict::beaten_across:
        return fmt::format("{}: from where he stood before, the puck's new line was out of reach", word);
    case Verdict::off_the_post:
        return word + ": with the puck that low his place is on the post";
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
        parts.push_back(fmt::format("{}, advised {} ({})", stood(decision, unit),
                                    stretch(*decision.advice, unit),
                                    outer_end(moment, *decision.advice, rules, unit)));
    } else {
        parts.push_back(fmt::format("{}; the puck is too low for depth to matter", stood(decision, unit)));
    }
    if (const auto& reach = decision.within_reach; reach && decision.advice) {
        parts.push_back(reach->line ? fmt::format("since the moment before up to {} was in reach",
                                                  in_figures(reach->furthest_m, unit))
                                    : fmt::format("the new line was {} away and {} in reach",
                                                  in_figures(reach->beside_m, unit),
                                                  in_figures(reach->push_m, unit)));
    }
    if (moment.set == false) parts.emplace_back("still moving");
    if (decision.verdict == Verdict::off_angle) {
        parts.push_back(fmt::format("that opens {} of goal line at one post",
                                    in_figures(decision.opened_m.value_or(0.0), unit)));
    }
    parts.push_back(on_passes(moment, decision));
    if (decision.gave_away) {
        const std::string given = per_cent(*decision.gave_away);
        parts.push_back(given != "0 %" ? fmt::format("gave away {} of the net", given)
                        : decision.verdict == Verdict::too_far_out
                            ? "no net given away, but the way back to whoever is not marked"
                            : "gave nothing away");
    }
    if (decision.on_what_came) parts.push_back(on_what_came(moment, *decision.on_what_came));
    if (firmness) parts.push_back(on_firmness(*firmness, level));
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
    if (!decision.advice) return decision.on_post ? "On the post: the puck is too low for depth." : "";
    return fmt::format("{} out: {}.", capital(stretch(*decision.advice, unit)),
                       outer_end(moment, *decision.advice, rules, unit));
}

} // namespace ropeline
