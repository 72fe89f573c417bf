#include "measure/by_definition.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

namespace ropeline::by_definition {
namespace {

constexpr Place i{0.0, 1.0};

/// Where the answer changes from yes (at `yes`) to no (at `no`).
double change_between(double yes, double no, const std::function<bool(double)>& ask) {
    for (int round = 0; round < 80; ++round) {
        const double middle = (yes + no) / 2;
        (ask(middle) ? yes : no) = middle;
    }
    return (yes + no) / 2;
}

Place direction_of(Place at) {
    return std::polar(1.0, std::arg(at));
}

/// The crease's outer edge along a direction: the last point that is inside the paint.
double crease_edge(Place along, const RuleBook& rules) {
    if (along.imag() < 0) along = along.real() < 0 ? -1.0 : 1.0; // behind the goal line: its end on that line
    const double half_width = rules.crease_shape == CreaseShape::clipped_disc
                                  ? rules.crease_half_width.m
                                  : std::numeric_limits<double>::infinity();
    return change_between(0.0, 10.0, [&](double far) {
        const Place at = far * direction_of(along);
        return std::abs(at) <= rules.crease_radius.m && std::abs(at.real()) <= half_width;
    });
}

/// A flat goalie of some width across the ice, seen from the puck.
class Eye {
public:
    Eye(Place puck, Place goalie, Place right_hand, double width, const RuleBook& rules)
        : puck_(puck), goalie_(goalie), right_hand_(right_hand), width_(width), half_(rules.post_half_gap.m) {
    }

    /// How far along the way to (x, 0) the block is met, as a share of the way to the goal line.
    std::optional<double> met(double x) const {
        // In the goalie's own frame the block lies on the real axis: where does the ray cross that axis?
        const Place from = (puck_ - goalie_) / right_hand_;
        const Place to = (Place{x, 0.0} - goalie_) / right_hand_;
        const Place way = to - from;
        if (way.imag() == 0.0) return std::nullopt;
        const double share = -from.imag() / way.imag();
        if (share <= 0.0 || std::abs((from + share * way).real()) > width_ / 2) return std::nullopt;
        if ((1.0 - share) * puck_.imag() < -width_ / 2) return std::nullopt; // inside the net, too far back
        return share;
    }

    Seen look(double height, double net_height) const {
        Seen seen;
        const double left = -half_, right = half_;
        // Law of cosines.
        const double a = std::abs(puck_ - left), b = std::abs(puck_ - right), c = right - left;
        seen.net_angle = std::acos(std::clamp((a * a + b * b - c * c) / (2 * a * b), -1.0, 1.0));
        // Rays a fixed angle apart from the left post to the right one.
        const Place first_way = left - puck_;
        const auto crossing = [&](double angle) {
            const Place way = first_way * std::polar(1.0, angle);
            return puck_.real() - puck_.imag() * way.real() / way.imag();
        };
        const auto stopped = [&](double angle) { return met(crossing(angle)).has_value(); };
        std::optional<double> some;
        for (int ray = 0; ray <= rays && !some; ++ray) {
            const double angle = seen.net_angle * (ray + 0.5) / (rays + 1);
            if (stopped(angle)) some = angle;
        }
        if (!some) {
            const double beside = side();
            seen.left_m = half_ * (1.0 + beside);
            seen.right_m = half_ * (1.0 - beside);
            return seen;
        }
        seen.any = true;
        const double from = stopped(0.0) ? 0.0 : change_between(*some, 0.0, stopped);
        // The same block may end between two rays further on: it is one piece, so its end is where it stops.
        const double to = stopped(seen.net_angle) ? seen.net_angle : end_of(*some, seen.net_angle, stopped);
        seen.left_angle = from;
        seen.right_angle = seen.net_angle - to;
        seen.covered = (to - from) / seen.net_angle;
        const double x_from = from == 0.0 ? left : crossing(from);
        const double x_to = to == seen.net_angle ? right : crossing(to);
        seen.left_m = x_from - left;
        seen.right_m = right - x_to;
        // Slices of the shadow: each is hidden up to where the line over the goalie's head meets the mouth.
        constexpr int slices = 400;
        double hidden = 0.0;
        for (int slice = 0; slice < slices; ++slice) {
            const double x = x_from + (x_to - x_from) * (slice + 0.5) / slices;
            if (const auto share = met(x)) hidden += std::min(net_height, height / *share);
        }
        seen.area = 1.0 - hidden * (x_to - x_from) / slices / ((right - left) * net_height);
        return seen;
    }

private:
    /// All is open: +1 when the block stands to the right of what the puck sees of the net, so that all of it
    /// is open at the left post; -1 the other way round; 0, a half each, when the block is not in front at
    /// all.
    double side() const {
        constexpr int steps = 4000;
        for (int step = 0; step <= steps; ++step) {
            const Place at = goalie_ + right_hand_ * width_ * (static_cast<double>(step) / steps - 0.5);
            if (at.imag() < -width_ / 2 || at.imag() > puck_.imag()) continue;
            const Place way = at - puck_;
            return way.real() * puck_.imag() > -puck_.real() * -way.imag() ? 1.0 : -1.0;
        }
        return 0.0;
    }

    static double end_of(double yes, double last, const std::function<bool(double)>& stopped) {
        const double step = last / (rays + 1);
        while (yes + step < last && stopped(yes + step))
            yes += step;
        return change_between(yes, std::min(yes + step, last), stopped);
    }

    Place puck_, goalie_, right_hand_;
    double width_, half_;
};

/// Square to somebody, or along the skates.
std::optional<Seen> look(Place puck, Place goalie, const std::optional<std::pair<Place, Place>>& skates,
                         const RuleBook& rules, const Parameters& parameters) {
    if (puck.imag() <= 0) return std::nullopt;
    const Place right_hand =
        skates ? direction_of(skates->second - skates->first) : direction_of(puck - goalie) / i;
    return Eye{puck, goalie, right_hand, parameters.block_width_m, rules}.look(parameters.block_height_m,
                                                                               rules.net_height.m);
}

struct Line {
    double depth = 0.0, off = 0.0;
};
/// The goalie as seen along the line to the puck: so far out, so far to its right.
Line on_puck_line(Place goalie, Place puck) {
    const Place turned = goalie / direction_of(puck) * i;
    return {turned.imag(), turned.real()};
}

double have_s(const Opponent& to, Place puck, const Parameters& parameters) {
    return std::abs(to.at - puck) / parameters.pass_speed_mps +
           (to.one_timer ? parameters.one_timer_s : parameters.catch_and_shoot_s);
}

double need_s(const Opponent& to, Place goalie, double depth, const Parameters& parameters) {
    return parameters.see_s + std::abs(depth * direction_of(to.at) - goalie) / parameters.lateral_speed_mps;
}

Pass pass_to(const Opponent& to, const Moment& moment, double depth, const RuleBook& rules,
             const Parameters& parameters) {
    Pass pass;
    const double kept = std::max(depth, 0.0); // nobody goes into the net
    pass.pass_s = std::abs(to.at - moment.puck) / parameters.pass_speed_mps;
    pass.have_s = have_s(to, moment.puck, parameters);
    pass.need_s = need_s(to, moment.goalie, kept, parameters);
    pass.margin_s = pass.have_s - pass.need_s;
    pass.new_spot = kept * direction_of(to.at);
    const auto reaches = [&](double from) {
        return need_s(to, from * direction_of(moment.puck), from, parameters) <= pass.have_s;
    };
    if (!reaches(0.0))
        pass.reach_m = 0.0;
    else if (!reaches(100.0))
        pass.reach_m = change_between(0.0, 100.0, reaches);

    const double way = std::abs(pass.new_spot - moment.goalie);
    const double moving_s = std::max(0.0, pass.have_s - parameters.see_s);
    const Place arrives = way <= moving_s * parameters.lateral_speed_mps
                              ? pass.new_spot
                              : moment.goalie + moving_s * parameters.lateral_speed_mps *
                                                    direction_of(pass.new_spot - moment.goalie);
    if (const auto seen = look(to.at, arrives, std::nullopt, rules, parameters))
        pass.covered_on_arrival = seen->covered;
    return pass;
}

double cap_of(const std::string& situation, const Parameters& parameters) {
    return *parameter(parameters, "cap_" + (situation.empty() ? "zone" : situation) + "_m");
}

void advise(const Moment& moment, const RuleBook& rules, const Parameters& parameters, Answer& answer) {
    const double least = parameters.defensive_depth_m;
    if (moment.puck.imag() >= rules.red_line_centre.m) {
        answer.cap = answer.advised = std::max(cap_of("neutral_ice", parameters), least);
        answer.limit = "home";
        return;
    }
    const bool rebound = moment.situation == "rebound";
    answer.cap = cap_of(moment.situation, parameters);
    answer.limit = "cap";
    const double band_end = std::max(least, answer.edge - parameters.base_half_width_m);
    if (rebound || (moment.likelihood == "pass" && band_end < answer.cap - 1e-9)) {
        answer.cap = std::min(answer.cap, band_end);
        answer.limit = "conservative";
    }
    answer.cap = std::max(answer.cap, least);
    answer.advised = answer.cap;
    for (std::size_t one = 0; one < moment.threats.size(); ++one) {
        if (moment.likelihood == "shot" && !moment.threats[one].open) continue;
        const auto reach = answer.passes[one].reach_m;
        if (!reach || *reach >= answer.advised) continue;
        answer.advised = *reach;
        answer.limit = "pass";
    }
    if (answer.advised < least) {
        answer.advised = least;
        answer.limit = "defensive";
    }
}

std::string verdict_of_shot(const Moment& moment, const RuleBook& rules, const Parameters& parameters,
                            Answer& answer, const std::function<bool(double, double)>& more) {
    if (more(-parameters.depth_tolerance_m, answer.error)) return "sat_back";
    const auto here = look(moment.puck, moment.goalie, std::nullopt, rules, parameters);
    const auto there = look(moment.puck, std::max(answer.depth, 0.0) * direction_of(moment.puck),
                            std::nullopt, rules, parameters);
    if (!here || !there) return "right_read";
    const double opened = std::max(here->left_m - there->left_m, here->right_m - there->right_m);
    return more(opened, parameters.angle_tolerance_m) ? "off_angle" : "right_read";
}

std::string verdict_of_pass(const Answer& answer, const std::function<bool(double, double)>& more) {
    if (answer.passes.empty()) return "not_judged";
    const bool lost = std::ranges::any_of(answer.passes, [&](const Pass& pass) {
        const bool from_there = !pass.reach_m || *pass.reach_m > answer.advised - 1e-9;
        return from_there && more(0.0, pass.margin_s);
    });
    if (!lost) return "right_read";
    return more(answer.error, 0.0) ? "over_challenged" : "off_angle";
}

} // namespace

Answer answer(const Moment& moment, const RuleBook& rules, const Parameters& parameters) {
    Answer answer;
    answer.nearest_edge = std::numeric_limits<double>::infinity();
    const auto more = [&](double one, double other) {
        answer.nearest_edge = std::min(answer.nearest_edge, std::abs(one - other));
        return one > other;
    };
    const Line line = on_puck_line(moment.goalie, moment.puck);
    answer.depth = line.depth;
    answer.off = line.off;
    answer.edge = crease_edge(moment.puck, rules);
    answer.clearance = answer.depth - answer.edge;
    answer.band = more(parameters.defensive_depth_m, answer.depth)        ? "defensive"
                  : more(-parameters.base_half_width_m, answer.clearance) ? "conservative"
                  : more(answer.clearance, parameters.base_half_width_m)  ? "aggressive"
                                                                          : "base";
    if (moment.skates)
        answer.square_error =
            std::arg((moment.puck - moment.goalie) / ((moment.skates->second - moment.skates->first) * i));
    answer.seen = look(moment.puck, moment.goalie, moment.skates, rules, parameters);
    answer.reaction_s = std::abs(moment.puck - moment.goalie) / parameters.shot_speed_mps;
    for (const Opponent& threat : moment.threats)
        answer.passes.push_back(pass_to(threat, moment, answer.depth, rules, parameters));
    advise(moment, rules, parameters, answer);
    answer.error = answer.depth - answer.advised;
    answer.verdict = "not_judged";
    if (moment.next == "shot") answer.verdict = verdict_of_shot(moment, rules, parameters, answer, more);
    if (moment.next == "pass") answer.verdict = verdict_of_pass(answer, more);
    return answer;
}

} // namespace ropeline::by_definition
