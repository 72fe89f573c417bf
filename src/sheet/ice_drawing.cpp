#include "sheet/ice_drawing.h"

#include "rink/crease.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

std::optional<IcePoint> place_of(const Moment& moment, MarkKind kind) {
    for (const Mark& mark : moment.marks) {
        if (mark.kind == kind) return mark.ice;
    }
    return std::nullopt;
}

/// The puck line from the net outwards in the four bands of this angle, two skate lengths beyond the base
/// band at most.
void add_bands(std::vector<IceLine>& lines, IcePoint direction, double reach, const RuleBook& rules,
               const Parameters& parameters) {
    const double edge = crease_edge_m(rules, direction);
    const double ends[] = {0.0, parameters.defensive_depth_m, edge - parameters.base_half_width_m,
                           edge + parameters.base_half_width_m, edge + parameters.base_half_width_m + 1.2};
    for (int band = 0; band < 4; ++band) {
        const double from = std::min(ends[band], reach);
        const double to = std::min(ends[band + 1], reach);
        if (to > from)
            lines.push_back(
                {IceLineKind::band, {direction * from, direction * to}, static_cast<Band>(band), {}});
    }
}

} // namespace

std::optional<IcePoint> goalie_place(const Moment& moment) {
    const auto left = place_of(moment, MarkKind::skate_left);
    const auto right = place_of(moment, MarkKind::skate_right);
    if (left && right) return (*left + *right) * 0.5;
    return place_of(moment, MarkKind::goalie);
}

std::vector<IceLine> moment_lines(const Moment& moment, const RuleBook& rules, const Parameters& parameters) {
    std::vector<IceLine> lines;
    const auto puck = place_of(moment, MarkKind::puck);
    const auto left = place_of(moment, MarkKind::skate_left);
    const auto right = place_of(moment, MarkKind::skate_right);
    if (puck && length(*puck) > 0.01) {
        const IcePoint direction = *puck * (1.0 / length(*puck));
        const double post = rules.post_half_gap.m;
        lines.push_back({IceLineKind::rope, {{-post, 0.0}, *puck}, {}, {}});
        lines.push_back({IceLineKind::rope, {{post, 0.0}, *puck}, {}, {}});
        add_bands(lines, direction, length(*puck), rules, parameters);
        lines.push_back({IceLineKind::puck_line, {{0.0, 0.0}, *puck}, {}, {}});
        if (const auto goalie = goalie_place(moment)) {
            const IcePoint foot = direction * dot(*goalie, direction);
            lines.push_back({IceLineKind::depth, {{0.0, 0.0}, foot}, {}, {}});
            lines.push_back({IceLineKind::off_angle, {foot, *goalie}, {}, {}});
            const double range = distance(*puck, *goalie);
            if (range > 0.01) {
                const IcePoint facing = (*puck - *goalie) * (1.0 / range);
                const IcePoint side{facing.y_m, -facing.x_m};
                const double half = 0.5 * parameters.block_width_m;
                lines.push_back({IceLineKind::block, {*goalie - side * half, *goalie + side * half}, {}, {}});
            }
        }
    }
    if (left && right) lines.push_back({IceLineKind::stance, {*left, *right}, {}, {}});
    return lines;
}

namespace {

/// The goal line from the puck's view: hidden in the middle, open at the posts.
void add_goal_line(std::vector<IceLine>& lines, const Coverage& net, IcePoint puck, double half_gap) {
    const bool short_is_left = puck.x_m < 0.0;
    const double left_m = short_is_left ? net.short_side.goal_line_m : net.far_side.goal_line_m;
    const double right_m = short_is_left ? net.far_side.goal_line_m : net.short_side.goal_line_m;
    const auto open = [&](double from, double to) {
        if (to - from >= 0.01) lines.push_back({IceLineKind::opening, {{from, 0.0}, {to, 0.0}}, {}, {}});
    };
    open(-half_gap, -half_gap + left_m);
    open(half_gap - right_m, half_gap);
    if (half_gap - right_m > -half_gap + left_m)
        lines.push_back(
            {IceLineKind::shadow, {{-half_gap + left_m, 0.0}, {half_gap - right_m, 0.0}}, {}, {}});
}

} // namespace

std::string in_time_words(const ThreatReading& pass) {
    const std::string late = fmt::format("{:.2f}", pass.late_s), spare = fmt::format("{:.2f}", pass.spare_s);
    if (late != "0.00") return fmt::format("{} s late", late);
    return spare != "0.00" ? fmt::format("{} s to spare", spare) : "just in time";
}

std::string receiver_letter(std::size_t index) {
    return {static_cast<char>('A' + index % 26)};
}

std::string pass_words(ReceiverKind kind, std::size_t index, const ThreatReading& pass) {
    return fmt::format("{} {}: {}", kind == ReceiverKind::tip ? "tip by" : "pass to", receiver_letter(index),
                       in_time_words(pass));
}

std::vector<IceLine> decision_lines(const AskedMoment& asked, const Decision& decision,
                                    const RuleBook& rules) {
    std::vector<IceLine> lines;
    const IcePoint puck = asked.moment.puck;
    const IcePoint out = puck_line(puck);
    if (const auto& net = decision.reading.coverage) add_goal_line(lines, *net, puck, rules.post_half_gap.m);
    for (std::size_t index = 0; index < asked.threats.size(); ++index) {
        const ThreatReading& pass = decision.threats[index];
        lines.push_back({pass.late_s > 0.0 ? IceLineKind::lost_pass : IceLineKind::pass,
                         {puck, asked.threats[index].at},
                         {},
                         pass_words(asked.threats[index].kind, index, pass)});
    }
    if (const auto& advice = decision.advice) {
        const IcePoint across = IcePoint{out.y_m, -out.x_m} * 0.3;
        lines.push_back({IceLineKind::advised, {out * advice->from_m, out * advice->to_m}, {}, {}});
        for (const double end : {advice->from_m, advice->to_m})
            lines.push_back({IceLineKind::advised_end, {out * end - across, out * end + across}, {}, {}});
    }
    return lines;
}

std::vector<std::vector<ImagePoint>> in_picture(const RinkFit& fit, const std::vector<IcePoint>& line,
                                                ImageSize image) {
    constexpr double longest_piece_m = 0.5;
    const double far_px = 3.0 * std::max(image.width_px, image.height_px);
    std::vector<std::vector<ImagePoint>> pieces(1);
    const auto add = [&](IcePoint at) {
        const auto seen = image_at(fit, at);
        if (seen && std::abs(seen->x_px) < far_px && std::abs(seen->y_px) < far_px) {
            pieces.back().push_back(*seen);
        } else if (!pieces.back().empty()) {
            pieces.emplace_back();
        }
    };
    for (std::size_t index = 0; index < line.size(); ++index) {
        if (index > 0) {
            const double whole = distance(line[index - 1], line[index]);
            const int parts = std::max(1, static_cast<int>(std::ceil(whole / longest_piece_m)));
            for (int part = 1; part < parts; ++part) {
                add(line[index - 1] + (line[index] - line[index - 1]) * (static_cast<double>(part) / parts));
            }
        }
        add(line[index]);
    }
    std::erase_if(pieces, [](const auto& piece) { return piece.size() < 2; });
    return pieces;
}

} // namespace ropeline
