#include "camera/snap.h"

#include "camera/paint_update.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

constexpr double reach_px = 14.0;
constexpr int fewest_to_snap = 25;

double rms_px(const PaintLook& look, double reach) {
    double squared = 0.0;
    int count = 0;
    for (const PaintMatch& match : look.found) {
        if (std::abs(match.off_px) > reach) continue;
        squared += match.off_px * match.off_px;
        ++count;
    }
    return count > 0 ? std::sqrt(squared / count) : reach;
}

} // namespace

std::optional<Snap> snap_to_paint(const RinkFit& fit, const RuleBook& rules, const PictureView& picture,
                                  std::string& why_not) {
    const std::optional<CameraBelief> rough = turning_camera_of(fit, 25.0);
    if (!rough) {
        why_not = "this fit is not what a camera with square pixels sees; check its clicks first";
        return std::nullopt;
    }
    const std::vector<PaintSample> samples = paint_samples(rules);
    PaintUpdate snapped = settle_on_paint(*rough, samples, picture, reach_px);
    if (snapped.agreed >=
        fewest_to_snap) { // clicks that far off once more, from nearer: the lines are to decide
        snapped = update_by_paint({snapped.belief.camera, rough->spread}, samples, picture, reach_px / 2.0);
    }
    if (snapped.agreed < fewest_to_snap || snapped.agreed < snapped.expected / 5) {
        why_not = fmt::format(
            "only {} of {} stretches of painted line were found near where the fit has them; click one more "
            "landmark and try again",
            snapped.agreed, snapped.expected);
        return std::nullopt;
    }
    const RinkFit after = fit_of(snapped.belief);
    for (const double x : {0.25, 0.5, 0.75}) {
        for (const double y : {0.4, 0.6, 0.8}) {
            const ImagePoint at{x * picture.width_px, y * picture.height_px};
            const auto ice = ice_at(fit, at);
            const auto now = ice ? image_at(after, *ice) : std::nullopt;
            if (!now) continue;
            const IceCovariance spread = ice_covariance(fit, at, 0.0);
            const auto there = ice_at(after, at);
            if (!there) continue;
            const double allowed_m = 5.0 * std::sqrt(spread.xx + spread.yy) + 0.3;
            if (distance(*ice, *there) > allowed_m) {
                why_not = fmt::format(
                    "the painted lines would move the fit by {:.1f} m, more than its clicks allow; check the "
                    "clicks and the rule book",
                    distance(*ice, *there));
                return std::nullopt;
            }
        }
    }
    Snap snap{after, 0.0, 0.0, snapped.agreed};
    snap.before_px = rms_px(look_for_paint(rough->camera, samples, picture, reach_px), reach_px);
    snap.after_px = rms_px(look_for_paint(snapped.belief.camera, samples, picture, reach_px), 3.0);
    snap.fit.rms_px = snapped.rms_px;
    snap.fit.click_sigma_px = fit.click_sigma_px;
    if (snap.after_px > snap.before_px) {
        why_not = "the fit already lies on the painted lines";
        return std::nullopt;
    }
    return snap;
}

} // namespace ropeline
