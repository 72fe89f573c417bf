#include "camera/paint_evidence.h"

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

constexpr double visible_px = 0.8; // thinner, film keeps a line here and there only
constexpr double close_px = 3.0;
constexpr double by_chance = 0.35; // of stretches laid anywhere on a rink's picture
constexpr double net_by_chance =
    0.1; // the same of the net's: measured 8 to 10 in a hundred, a little farther off

/// Width of the line in the picture, pixels; 0 behind the camera.
double width_px(const TurningCamera& camera, const PaintSample& sample) {
    const Eigen::Vector3d seen =
        camera.camera_from_world * (Eigen::Vector3d{sample.at.x(), sample.at.y(), 0.0} - camera.place_m);
    if (!(seen.z() > 0.1)) return 0.0;
    const Eigen::Vector3d along = camera.camera_from_world.leftCols<2>() * sample.along;
    const double stretch = (along.head<2>() * seen.z() - seen.head<2>() * along.z()).norm();
    // A square metre of ice covers f^2 h / z^3 pixels; a metre along the line f / z^2 times `stretch`.
    return sample.width_m * camera.focal_px * camera.place_m.z() / (seen.z() * stretch);
}

double spread_of(double chance, int expected) {
    return chance * (1.0 - chance) * expected;
}

} // namespace

PaintEvidence evidence_for(const TurningCamera& camera, const std::vector<PaintSample>& samples,
                           const PictureView& picture) {
    const double unit = std::min(1.0, picture.width_px / 1280.0); // small films are shrunk and sharper
    std::vector<PaintSample> visible;
    std::ranges::copy_if(samples, std::back_inserter(visible), [&](const PaintSample& sample) {
        return width_px(camera, sample) > visible_px * unit;
    });
    const PaintLook look = look_for_paint(camera, visible, picture, close_px);
    PaintEvidence evidence{static_cast<int>(look.found.size()), look.expected, 0.0, 0.0};
    if (look.expected == 0) return evidence;
    evidence.share = static_cast<double>(evidence.found) / evidence.expected;
    evidence.sigmas =
        (evidence.found - by_chance * evidence.expected) / std::sqrt(spread_of(by_chance, evidence.expected));
    return evidence;
}

PaintEvidence with_net(const PaintEvidence& paint, const NetLook& net) {
    PaintEvidence both{paint.found + net.found, paint.expected + net.expected, 0.0, 0.0};
    if (both.expected == 0) return both;
    both.share = static_cast<double>(both.found) / both.expected;
    both.sigmas = (both.found - by_chance * paint.expected - net_by_chance * net.expected) /
                  std::sqrt(spread_of(by_chance, paint.expected) + spread_of(net_by_chance, net.expected));
    return both;
}

} // namespace ropeline
