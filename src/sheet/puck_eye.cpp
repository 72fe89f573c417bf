#include "sheet/puck_eye.h"

#include <algorithm>
#include <utility>

namespace ropeline {
namespace {

std::vector<EyePoint> seen_from(IcePoint puck, const std::vector<MouthPoint>& outline) {
    std::vector<EyePoint> seen;
    for (const MouthPoint at : outline) {
        if (const auto point = eye_point(puck, {at.x_m, 0.0}, at.up_m)) seen.push_back(*point);
    }
    return seen;
}

} // namespace

std::optional<PuckEye> puck_eye(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                const Parameters& parameters) {
    const auto seen = net_seen(stance, puck, rules, parameters.block_width_m, parameters.block_height_m);
    const double half = rules.post_half_gap.m, height = rules.net_height.m;
    PuckEye eye;
    eye.mouth = seen_from(puck, {{-half, 0.0}, {half, 0.0}, {half, height}, {-half, height}});
    if (!seen || eye.mouth.size() != 4) return std::nullopt;
    eye.share = seen->share;
    const auto [least, most] = std::ranges::minmax(eye.mouth, {}, &EyePoint::right);
    eye.left = least.right;
    eye.right = most.right;
    eye.top = std::ranges::max(eye.mouth, {}, &EyePoint::up).up;
    const auto net_line = [&](MouthPoint from, MouthPoint to) {
        const auto ends = seen_from(puck, {from, to});
        if (ends.size() == 2) eye.netting.push_back({ends[0], ends[1]});
    };
    for (int step = 1; step < 12; ++step) {
        const double x = -half + 2.0 * half * step / 12.0;
        net_line({x, 0.0}, {x, height});
        if (step < 8) net_line({-half, height * step / 8.0}, {half, height * step / 8.0});
    }
    eye.shadow = seen_from(puck, seen->shadow);
    const BlockingSegment block = blocking_segment(stance, puck, parameters.block_width_m);
    for (const auto& [at, up] : {std::pair{block.left, 0.0}, std::pair{block.right, 0.0},
                                 std::pair{block.right, parameters.block_height_m},
                                 std::pair{block.left, parameters.block_height_m}}) {
        if (const auto point = eye_point(puck, at, up)) eye.block.push_back(*point);
    }
    if (eye.block.size() != 4) eye.block.clear();
    return eye;
}

} // namespace ropeline
