#include "camera/net_frame.h"

#include "camera/paint_search.h"
#include "rink/landmarks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace ropeline {
namespace {

constexpr double bar_spacing_m = 0.08;
constexpr double net_reach_px = 12.0; ///< in a picture 1280 wide
constexpr double off_peg_m = 0.02; ///< nets are moved by players and stand so far off their place, one sigma
constexpr double bar_sigma_px = 0.4;
constexpr double most_bar_sigmas = 3.0;

/// A straight piece of the frame, from one end to the other above the ice.
struct FrameBar {
    Eigen::Vector3d from, to;
};

std::array<FrameBar, 3> frame_bars(const RuleBook& rules, bool far_end) {
    const double radius = rules.post_diameter.m / 2.0, x = rules.post_half_gap.m + radius,
                 top = rules.net_height.m + radius;
    const auto stood = [&](double across, double height) {
        const IcePoint at = far_end ? from_other_end(rules, {across, 0.0}) : IcePoint{across, 0.0};
        return Eigen::Vector3d{at.x_m, at.y_m, height};
    };
    return {FrameBar{stood(-x, 0.0), stood(-x, top)}, FrameBar{stood(x, 0.0), stood(x, top)},
            FrameBar{stood(-x, top), stood(x, top)}};
}

/// The bar as the painted line that it covers on the ice for a camera there.
std::vector<PaintSample> covered_by(const FrameBar& bar, const Eigen::Vector3d& from, double width_m) {
    const auto covered = [&](const Eigen::Vector3d& at) -> Eigen::Vector2d {
        return (from + (at - from) * (from.z() / (from.z() - at.z()))).head<2>();
    };
    std::vector<PaintSample> samples;
    const Eigen::Vector3d way = bar.to - bar.from;
    const int steps = static_cast<int>(way.norm() / bar_spacing_m);
    for (int i = 1; i < steps; ++i) {
        const Eigen::Vector3d at = bar.from + way * (static_cast<double>(i) / steps);
        const Eigen::Vector2d along = covered(at + 0.01 * way) - covered(at);
        samples.push_back({covered(at), along.normalized(), width_m * from.z() / (from.z() - at.z())});
    }
    return samples;
}

} // namespace

NetStands where_net_stands(const TurningCamera& camera, const RuleBook& rules, const PictureView& picture) {
    const double unit = picture.width_px / 1280.0;
    bool seen = false, elsewhere = false;
    for (const bool far_end : {false, true}) {
        for (const FrameBar& bar : frame_bars(rules, far_end)) {
            if (camera.place_m.z() < bar.to.z() + 0.3) continue;
            const std::vector<PaintSample> samples = covered_by(bar, camera.place_m, rules.post_diameter.m);
            const PaintLook look = look_for_paint(camera, samples, picture, net_reach_px * unit);
            if (look.expected * 2 < static_cast<int>(samples.size())) continue;
            std::vector<double> offs_px;
            double px_per_m = 0.0;
            for (const PaintMatch& match : look.found) {
                offs_px.push_back(match.off_px);
                px_per_m = std::max(px_per_m, std::abs(match.px_per_m));
            }
            if (offs_px.size() * 2 < static_cast<std::size_t>(look.expected)) continue;
            const auto middle = offs_px.begin() + static_cast<std::ptrdiff_t>(offs_px.size() / 2);
            std::ranges::nth_element(offs_px, middle);
            seen = true;
            if (std::abs(*middle) > most_bar_sigmas * std::hypot(bar_sigma_px, off_peg_m * px_per_m))
                elsewhere = true;
        }
    }
    return elsewhere ? NetStands::elsewhere : seen ? NetStands::here : NetStands::unseen;
}

} // namespace ropeline
