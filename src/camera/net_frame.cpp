#include "camera/net_frame.h"

#include "camera/paint_search.h"
#include "rink/landmarks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <vector>

namespace ropeline {
namespace {

constexpr double bar_spacing_m = 0.08;
constexpr double net_reach_px = 12.0; ///< in a picture 1280 wide
constexpr double off_peg_m = 0.02;  ///< nets are moved by players and stand so far off their place, one sigma
constexpr double leans_m = 0.012;   ///< and no more from its lower half to its upper one
constexpr double scatters_m = 0.08; ///< what leans as much does not scatter
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

/// Of offsets along a bar: their middle, and how far apart the middle half of them lies.
struct Offs {
    double middle_px = 0.0, spread_px = 0.0;
};

Offs offs_of(std::span<const double> offs_px) {
    std::vector<double> sorted(offs_px.begin(), offs_px.end());
    std::ranges::sort(sorted);
    const std::size_t count = sorted.size();
    return {sorted[count / 2], sorted[3 * count / 4] - sorted[count / 4]};
}

/// How far off a bar lies at most that stands where it should.
double most_bar_off_px(double px_per_m) {
    return most_bar_sigmas * std::hypot(bar_sigma_px, off_peg_m * px_per_m);
}

NetStands where_bar_stands(const PaintLook& look, std::size_t samples) {
    const bool shown = look.expected * 2 >= static_cast<int>(samples);
    if (!shown || look.found.size() < 4 || look.found.size() * 2 < static_cast<std::size_t>(look.expected))
        return NetStands::unseen;
    std::vector<double> offs_px; // from one end to the other
    double px_per_m = 0.0;
    for (const PaintMatch& match : look.found) {
        offs_px.push_back(match.off_px);
        px_per_m = std::max(px_per_m, std::abs(match.px_per_m));
    }
    const std::span<const double> all = offs_px;
    const Offs whole = offs_of(all), lower = offs_of(all.first(all.size() / 2)),
               upper = offs_of(all.last(all.size() / 2));
    // A goalie or a player before the bar has edges of his own: they lie here and there.
    const double scattered_px = std::max(1.5, scatters_m * px_per_m);
    if (whole.spread_px > scattered_px) return NetStands::unseen;
    const bool beside = std::abs(whole.middle_px) > most_bar_off_px(px_per_m);
    const bool leans = std::max(lower.spread_px, upper.spread_px) < 0.5 * scattered_px &&
                       std::abs(upper.middle_px - lower.middle_px) >
                           most_bar_sigmas * std::hypot(1.4 * bar_sigma_px, leans_m * px_per_m);
    return beside || leans ? NetStands::elsewhere : NetStands::here;
}

NetLook look_for_bar(const TurningCamera& camera, const FrameBar& bar, const RuleBook& rules,
                     const PictureView& picture) {
    if (camera.place_m.z() < bar.to.z() + 0.3) return {};
    const std::vector<PaintSample> samples = covered_by(bar, camera.place_m, rules.post_diameter.m);
    const PaintLook look = look_for_paint(camera, samples, picture, net_reach_px * picture.width_px / 1280.0);
    const auto close = std::ranges::count_if(look.found, [](const PaintMatch& match) {
        return std::abs(match.off_px) < most_bar_off_px(match.px_per_m);
    });
    return {where_bar_stands(look, samples.size()), static_cast<int>(close), look.expected};
}

} // namespace

NetLook look_for_net(const TurningCamera& camera, const RuleBook& rules, const PictureView& picture) {
    NetLook net;
    int here = 0, elsewhere = 0;
    for (const bool far_end : {false, true}) {
        for (const FrameBar& bar : frame_bars(rules, far_end)) {
            const NetLook look = look_for_bar(camera, bar, rules, picture);
            here += look.stands == NetStands::here ? 1 : 0;
            elsewhere += look.stands == NetStands::elsewhere ? 1 : 0;
            net.found += look.found;
            net.expected += look.expected;
        }
    }
    if (here + elsewhere > 0)
        net.stands = elsewhere >= std::max(1, here) ? NetStands::elsewhere : NetStands::here;
    return net;
}

} // namespace ropeline
