#include "camera/locate.h"

#include "camera/grey.h"
#include "camera/paint_directions.h"
#include "camera/refind.h"
#include "camera/sight.h"
#include "camera/view_grid.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>
#include <initializer_list>

namespace ropeline {
namespace {

constexpr std::size_t most_polished = 8;
constexpr double least_located_share = 0.55;
constexpr double least_sigmas_with_net = 6.0;
constexpr double least_sigmas = 9.0; ///< where no net is seen: a wrong view of 320 had 8.2
/// Close up, players may hide half of what there is; the rest has to lie the closer.
constexpr double least_half_hidden = 0.47, most_half_hidden_px = 0.7, most_half_hidden_sigmas = 0.6;
constexpr double most_rival = 0.7; ///< of the evidence for the best
constexpr double most_place_off = 2.4;
constexpr double least_move_m = 0.02;     ///< paint moves a place by chance: no less
constexpr double most_line_sigmas = 0.97; ///< a camera some steps off meets lines worse than film shows them
constexpr double most_located_sigma_m = 0.15;
constexpr int fewest_line_pixels = 300; ///< of 640 to the width: less is no rink
constexpr double same_scene = 0.2;
constexpr int fewest_alike = 40;
constexpr double least_alike = 0.4;
constexpr std::size_t most_likely = 40;
constexpr double another_view = 0.05; ///< apart by so much, two views are not the same one settled twice

/// Where one of the views shows what the camera sees: do its features lie where they should? Both ends are
/// painted alike, but boards and stands are not.
bool denied(const TurningCamera& camera, const PictureView& picture, std::span<const KeyView> views) {
    const auto apart = [&](const KeyView& view) { return view_distance(view.belief.camera, camera); };
    const auto nearest = std::ranges::min_element(views, {}, apart);
    if (nearest == views.end() || apart(*nearest) > same_scene) return false;
    std::vector<cv::Mat> pyramid;
    GreyFrame frame{grey_of(picture), {}};
    const auto tracked = track(*nearest, pyramid, frame, camera);
    return !tracked || tracked->features < fewest_alike || tracked->share < least_alike;
}

/// Turn and zoom open, place and lens as they are known.
CameraBelief opened(const CameraBelief& known, const TurningCamera& camera) {
    CameraBelief belief{camera, known.spread};
    belief.spread.topRows<4>().setZero();
    belief.spread.leftCols<4>().setZero();
    const double turn = 25.0 / camera.focal_px, roll = 0.01, zoom = 0.08;
    belief.spread.diagonal().head<4>() << turn * turn, turn * turn, roll * roll, zoom * zoom;
    return belief;
}

/// How far the paint drew the camera from its known place, in sigmas of how far it does so by chance.
double place_off(const CameraBelief& known, const CameraBelief& found) {
    const Eigen::Vector3d off = found.camera.place_m - known.camera.place_m;
    const Eigen::Matrix3d moves = known.spread.block<3, 3>(4, 4) - found.spread.block<3, 3>(4, 4) +
                                  least_move_m * least_move_m * Eigen::Matrix3d::Identity();
    return std::sqrt(std::max(0.0, off.dot(moves.inverse() * off)));
}

/// Settled on the paint, in one pass for each reach.
Located polished(const CameraBelief& known, TurningCamera camera, const PictureView& picture,
                 const RuleBook& rules, const std::vector<PaintSample>& samples,
                 std::initializer_list<double> reaches_px) {
    Located found;
    for (const double within : reaches_px) {
        TurningCamera in_place = camera;
        in_place.place_m = known.camera.place_m;
        in_place.radial = known.camera.radial;
        CameraStep start = CameraStep::Zero();
        start.segment<3>(4) = camera.place_m - in_place.place_m;
        start(7) = camera.radial - in_place.radial;
        found.paint = update_by_paint(opened(known, in_place), samples, picture, within, start);
        camera = found.paint.belief.camera;
    }
    const NetLook net = look_for_net(found.paint.belief.camera, rules, picture);
    found.net = net.stands;
    found.evidence = with_net(evidence_for(found.paint.belief.camera, samples, picture), net);
    found.place_off = place_off(known, found.paint.belief);
    found.sigma_m = sigma_in_sight(fit_of(found.paint.belief));
    return found;
}

bool lies_closely(const Located& found) {
    const double share = found.evidence.share;
    if (share >= least_located_share)
        return found.paint.rms_px < 0.6 + 4.0 * (share - least_located_share) &&
               found.paint.rms_sigmas < most_line_sigmas;
    return found.net == NetStands::here && share >= least_half_hidden &&
           found.paint.rms_px < most_half_hidden_px && found.paint.rms_sigmas < most_half_hidden_sigmas;
}

} // namespace

bool is_clear(const Located& found) {
    const double sigmas = found.net == NetStands::here ? least_sigmas_with_net : least_sigmas;
    return found.net != NetStands::elsewhere && found.evidence.sigmas >= sigmas && lies_closely(found) &&
           found.rival_sigmas <= most_rival * found.evidence.sigmas && found.place_off < most_place_off &&
           found.sigma_m < most_located_sigma_m;
}

std::optional<Located> likeliest(const CameraBelief& known, const PictureView& picture, const RuleBook& rules,
                                 const ZoomReach& reach) {
    const LineMaps lines = line_maps(grey_of(picture), known.camera.radial);
    if (lines.pixels < fewest_line_pixels) return std::nullopt;
    const std::vector<PaintSample> samples = paint_samples(rules);
    const double focal = known.camera.focal_px, unit = picture.width_px / 1280.0;
    const std::vector<AimedView> likely = likely_views(
        known.camera, samples, lines, {reach.out * focal, reach.in * focal, 20.0 * unit, 1.07, most_likely});
    std::vector<Located> all;
    for (std::size_t i = 0; i < std::min(most_polished, likely.size()); ++i)
        all.push_back(
            polished(known, camera_of(known.camera, likely[i]), picture, rules, samples, {7.0, 4.0}));
    const auto best =
        std::ranges::max_element(all, {}, [](const Located& one) { return one.evidence.sigmas; });
    if (best == all.end()) return std::nullopt;
    double rival = 0.0;
    for (const Located& other : all) {
        if (view_distance(other.paint.belief.camera, best->paint.belief.camera) > another_view)
            rival = std::max(rival, other.evidence.sigmas);
    }
    // What is far away says most of the zoom, and is met only once what is near lies well.
    Located found = polished(known, best->paint.belief.camera, picture, rules, samples, {7.0, 6.0, 5.0, 4.0});
    found.rival_sigmas = rival;
    return found;
}

std::optional<Located> locate(const CameraBelief& known, const PictureView& picture, const RuleBook& rules,
                              std::span<const KeyView> views, const ZoomReach& reach) {
    std::optional<Located> found = likeliest(known, picture, rules, reach);
    if (!found || !is_clear(*found) || denied(found->paint.belief.camera, picture, views))
        return std::nullopt;
    return found;
}

} // namespace ropeline
