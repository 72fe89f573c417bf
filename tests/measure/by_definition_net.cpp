#include "measure/by_definition_net.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ropeline::by_definition {

double change_between(double yes, double no, const std::function<bool(double)>& ask) {
    for (int round = 0; round < 32; ++round) {
        const double middle = (yes + no) / 2;
        (ask(middle) ? yes : no) = middle;
    }
    return (yes + no) / 2;
}

Place direction_of(Place at) {
    return at == 0.0 ? Place{1.0} : at / std::abs(at);
}

double dot(Place one, Place other) {
    return one.real() * other.real() + one.imag() * other.imag();
}

Parts parts_along(Place at, Place direction) {
    const Place turned = at * std::conj(direction_of(direction)) * i;
    return {turned.imag(), turned.real()};
}

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

namespace {

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

/// On the goal line, within the mouth: from where to where a straight piece of ice hides it, of which only
/// what lies between `lowest` and the shot counts.
std::pair<double, double> shadow(Place from, Place one, Place other, double lowest, const RuleBook& rules) {
    if (one.imag() > other.imag()) std::swap(one, other);
    const double highest = from.imag() - 1e-9;
    if (other.imag() <= lowest || one.imag() >= highest) return {0.0, 0.0};
    const Place slope = (other - one) / (other - one).imag();
    if (other.imag() > highest) other = one + slope * (highest - one.imag());
    if (one.imag() < lowest) one += slope * (lowest - one.imag());
    const auto on_goal_line = [&](Place at) {
        return from.real() + (at - from).real() * from.imag() / (from - at).imag();
    };
    const double half = rules.post_half_gap.m;
    const auto [left, right] = std::minmax({on_goal_line(one), on_goal_line(other)});
    return {std::clamp(left, -half, half), std::clamp(right, -half, half)};
}

} // namespace

double hidden_area(Place from, Place goalie, double half, double high, const RuleBook& rules) {
    const Place way = from - goalie;
    const Place right_hand = direction_of(way) / i;
    const double fades = rules.thin_line.m / 2;
    const auto [from_x, to_x] =
        shadow(from, goalie - half * right_hand, goalie + half * right_hand, -fades, rules);
    const bool on_ice =
        (goalie - half * right_hand).imag() >= 0.0 && (goalie + half * right_hand).imag() >= 0.0;
    const int slices = on_ice ? 10 : 40;
    double hidden = 0.0;
    for (int slice = 0; slice < slices; ++slice) {
        const double x = from_x + (to_x - from_x) * (slice + 0.5) / slices;
        // The ray meets him where it has come as far along the way as he stands: this share of itself.
        const Place ray = from - x;
        const double met = std::norm(way) / dot(ray, way);
        const double there_y = from.imag() * (1.0 - met);
        hidden += std::clamp(1.0 + there_y / fades, 0.0, 1.0) * std::min(rules.net_height.m, high / met);
    }
    return hidden * (to_x - from_x) / slices;
}

std::optional<Seen> look(Place puck, Place goalie, const std::optional<std::pair<Place, Place>>& skates,
                         double block_width, double block_height, const RuleBook& rules) {
    if (puck.imag() <= 0) return std::nullopt;
    const Place right_hand =
        skates ? direction_of(skates->second - skates->first) : direction_of(puck - goalie) / i;
    return Eye{puck, goalie, right_hand, block_width, rules}.look(block_height, rules.net_height.m);
}

} // namespace ropeline::by_definition
