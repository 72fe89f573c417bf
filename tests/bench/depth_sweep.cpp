// Sweeps the model over the zone: the puck every half metre, nobody, one and two receivers, each situation and
// level. Prints how many plays have advice beyond the puck, advice behind the goal line, and a verdict that a
// millimetre turns though it is called firm: all must be 0. With a path it draws the advised stretch over the
// ice as SVG, for a coach to look at.
//
//     depth_sweep [PICTURE.svg]
#include "depth/firmness.h"
#include "depth/on_post.h"

#include <fmt/core.h>

#include <array>
#include <fstream>
#include <string>
#include <vector>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);
constexpr std::array levels{Level::youth, Level::junior, Level::senior, Level::elite};
constexpr std::array situations{Situation::rush,    Situation::zone,      Situation::penalty_kill,
                                Situation::rebound, Situation::breakaway, Situation::neutral_ice};

struct Receivers {
    const char* name;
    std::vector<Threat> threats;
};
const std::array<Receivers, 3> receivers{
    {{"nobody marked", {}},
     {"a one-timer at (-4, 7)", {{{-4.0, 7.0}, ReceiverKind::one_timer}}},
     {"one-timer (-4, 7), man (1.6, 1.2) stops it",
      {{{-4.0, 7.0}, ReceiverKind::one_timer}, {{1.6, 1.2}, ReceiverKind::stop}}}}};

struct Counts {
    int plays = 0, on_post = 0, beyond_puck = 0, behind_line = 0, turned = 0, turned_firm = 0;
};

MarkedMoment moment_at(IcePoint puck, IcePoint goalie, const std::vector<Threat>& threats,
                       Situation situation) {
    MarkedMoment moment;
    moment.puck = puck;
    moment.stance = stance_from_mark(goalie);
    moment.threats = threats;
    moment.situation = situation;
    return moment;
}

/// A goalie a millimetre either side of a spot.
void try_spot(IcePoint puck, IcePoint goalie, const std::vector<Threat>& threats, Situation situation,
              Level level, Counts& counts) {
    const Parameters parameters = parameters_for(level);
    const IcePoint line = puck_line(puck);
    const MarkedMoment here = moment_at(puck, goalie, threats, situation);
    const MarkedMoment there = moment_at(puck, goalie + line * 0.001, threats, situation);
    if (verdict_of(here, nhl, parameters) == verdict_of(there, nhl, parameters)) return;
    ++counts.turned;
    for (const MarkedMoment* moment : {&here, &there})
        if (firmness_of(*moment, nhl, parameters, level, "sweep")->share >= firm_from) {
            ++counts.turned_firm;
            fmt::print("firm and turned: puck ({}, {}), goalie ({}, {}), {}, {}\n", puck.x_m, puck.y_m,
                       goalie.x_m, goalie.y_m, key_of(situation), key_of(level));
            return;
        }
}

void sweep(IcePoint puck, const std::vector<Threat>& threats, Situation situation, Level level,
           Counts& counts) {
    ++counts.plays;
    const Parameters parameters = parameters_for(level);
    const IcePoint line = puck_line(puck);
    const Decision decision = decide(moment_at(puck, line, threats, situation), nhl, parameters);
    for (const double out_m : {0.3, 0.7, 1.1, 1.5, 1.9, 2.3})
        try_spot(puck, line * out_m, threats, situation, level, counts);
    if (!decision.advice) {
        ++counts.on_post;
        return;
    }
    const Advice& advice = *decision.advice;
    if (advice.to_m > length(puck)) ++counts.beyond_puck;
    if (advice.from_m < 0.0 || advice.from_m > advice.to_m) ++counts.behind_line;
    if (counts.plays % 97 != 0) return; // now and then on the very edge of a verdict
    try_spot(puck, line * (advice.to_m + parameters.depth_tolerance_m - 0.0005), threats, situation, level,
             counts);
    try_spot(puck, line * (advice.from_m - parameters.depth_tolerance_m - 0.0005), threats, situation, level,
             counts);
}

/// From deep blue at the goal line over white at 1.2 m to orange at 3 m: safe for colour-blind eyes.
std::string colour(double out_m) {
    const double share = std::clamp(out_m / 2.6, 0.0, 1.0);
    const auto mix = [&](int low, int middle, int high) {
        return share < 0.5 ? low + (middle - low) * share * 2.0
                           : middle + (high - middle) * (share * 2.0 - 1.0);
    };
    return fmt::format("rgb({:.0f},{:.0f},{:.0f})", mix(33, 245, 230), mix(102, 245, 97), mix(172, 245, 1));
}

/// One map: every half metre a mark, its lower half the near end of the stretch, its upper half the far end.
std::string map_of(const Receivers& who, Situation situation, Likelihood likelihood, double left_px,
                   double top_px) {
    constexpr double scale = 18.0;
    const auto x = [&](double m) { return left_px + (m + 13.0) * scale; };
    const auto y = [&](double m) { return top_px + 24.0 + (29.5 - m) * scale; };
    std::string svg = fmt::format("<text x='{}' y='{}' font-size='14'>{}, {}, {}</text>\n", x(-13),
                                  top_px + 14, who.name, key_of(situation), label_of(likelihood));
    const Parameters senior = parameters_for(Level::senior);
    std::string labels;
    for (double up = -3.0; up <= 29.0; up += 0.5)
        for (double right = -12.5; right <= 12.5; right += 0.5) {
            MarkedMoment moment = moment_at({right, up}, {0, 1}, who.threats, situation);
            moment.likelihood = likelihood;
            const Decision decision = decide(moment, nhl, senior);
            const double half = 0.25;
            const auto rect = [&](double bottom, const std::string& fill) {
                svg += fmt::format("<rect x='{:.1f}' y='{:.1f}' width='{}' height='{}' fill='{}'/>\n",
                                   x(right - half), y(bottom + half), 0.5 * scale, half * scale, fill);
            };
            rect(up - half, decision.advice ? colour(decision.advice->from_m) : "#888");
            rect(up, decision.advice ? colour(decision.advice->to_m) : "#888");
            const bool label =
                std::abs(std::remainder(right, 3.0)) < 1e-9 && std::abs(std::remainder(up, 2.0)) < 1e-9;
            if (label && decision.advice)
                labels += fmt::format(
                    "<text x='{:.1f}' y='{:.1f}' font-size='9' text-anchor='middle'>{:.1f}-{:.1f}</text>\n",
                    x(right), y(up - 0.15), decision.advice->from_m, decision.advice->to_m);
        }
    svg += labels;
    const double gap = nhl.post_half_gap.m;
    svg += fmt::format(
        "<path d='M{} {}H{}M{} {}H{}M{} {}V{}H{}V{}' fill='none' stroke='#b00' stroke-width='2'/>\n",
        x(-12.5), y(0), x(12.5), x(-12.5), y(nhl.blue_line_centre.m), x(12.5), x(-gap), y(0), y(-1.0), x(gap),
        y(0));
    for (const Threat& threat : who.threats)
        svg += fmt::format("<circle cx='{}' cy='{}' r='6' stroke='#000' fill='#fff'/>\n", x(threat.at.x_m),
                           y(threat.at.y_m));
    return svg;
}

void draw(const std::string& path) {
    std::ofstream file(path);
    file << "<svg xmlns='http://www.w3.org/2000/svg' width='1450' height='1900' font-family='sans-serif'>"
            "<rect width='100%' height='100%' fill='#fff'/>\n";
    struct Map {
        std::size_t who;
        Situation situation;
        Likelihood likelihood;
    };
    const std::array<Map, 9> maps{{{0, Situation::rush, Likelihood::either},
                                   {0, Situation::zone, Likelihood::either},
                                   {0, Situation::zone, Likelihood::pass},
                                   {1, Situation::rush, Likelihood::either},
                                   {1, Situation::zone, Likelihood::either},
                                   {1, Situation::zone, Likelihood::pass},
                                   {2, Situation::penalty_kill, Likelihood::either},
                                   {0, Situation::rebound, Likelihood::either},
                                   {0, Situation::breakaway, Likelihood::shot}}};
    for (std::size_t i = 0; i < maps.size(); ++i)
        file << map_of(receivers[maps[i].who], maps[i].situation, maps[i].likelihood,
                       10.0 + 480.0 * static_cast<double>(i % 3), 10.0 + 630.0 * static_cast<double>(i / 3));
    file << "</svg>\n";
}

} // namespace

int main(int count, char** words) {
    if (count > 1) draw(words[1]);
    Counts counts;
    for (const Receivers& who : receivers)
        for (const Situation situation : situations)
            for (const Level level : levels)
                for (double up = -3.0; up <= 19.0; up += 0.5)
                    for (double right = -12.5; right <= 12.5; right += 0.5)
                        sweep({right, up}, who.threats, situation, level, counts);
    fmt::print(
        "{} plays, {} of them on the post\nadvice beyond the puck: {}\nadvice behind the goal line: {}\n"
        "verdicts that a millimetre turns: {}, firm among them: {}\n",
        counts.plays, counts.on_post, counts.beyond_puck, counts.behind_line, counts.turned,
        counts.turned_firm);
    return counts.beyond_puck + counts.behind_line + counts.turned_firm == 0 ? 0 : 1;
}
