#include "camera/propose_fit.h"

#include "camera/grey.h"
#include "camera/orbit_view.h"
#include "camera/paint_directions.h"
#include "camera/paint_evidence.h"
#include "camera/paint_update.h"
#include "camera/sight.h"
#include "camera/turned.h"
#include "camera/view_grid.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace ropeline {
namespace {

constexpr double least_proposed_share = 0.75, least_proposed_sigmas = 12.0;
constexpr double most_proposed_rival = 0.7; ///< of the evidence for the best
constexpr double most_proposed_sigma_m = 0.15;
constexpr int fewest_pixels_of_lines = 300; ///< of 640 to the width: less is no rink
constexpr std::size_t views_a_place = 3, most_rough = 150, most_coarse = 48, most_fine = 14;

/// Where cameras of films stand: about the boards, the higher the farther out. Half of the way round: the other
/// half sees the same paint.
std::vector<Eigen::Vector3d> likely_places(const RuleBook& rules) {
    struct Row {
        double out_m, spacing_m;
        std::vector<double> heights_m;
    };
    const std::array<Row, 4> rows{{{1.0, 3.5, {2.2, 4.5, 8.0}},
                                   {5.0, 4.0, {3.5, 7.0, 11.0}},
                                   {10.0, 5.0, {6.0, 10.0, 15.0}},
                                   {18.0, 6.0, {10.0, 16.0}}}};
    std::vector<Eigen::Vector3d> places;
    for (const Row& row : rows) {
        const double half_x = rules.rink_width.m / 2.0 + row.out_m,
                     corner = rules.corner_radius.m + row.out_m;
        const double low = -rules.goal_line_to_boards.m - row.out_m,
                     high = rules.rink_length.m - rules.goal_line_to_boards.m + row.out_m;
        const double behind = half_x - corner, arc = corner * std::numbers::pi / 2.0,
                     side = high - low - 2.0 * corner;
        for (double along = 0.0; along <= 2.0 * (behind + arc) + side; along += row.spacing_m) {
            const double from_end = std::min(along, 2.0 * (behind + arc) + side - along);
            const bool far = from_end < along;
            Eigen::Vector2d at{-half_x, low + corner + (along - behind - arc)};
            if (from_end < behind) {
                at = {-from_end, far ? high : low};
            } else if (from_end < behind + arc) {
                const double angle = (from_end - behind) / corner;
                at = {-behind - corner * std::sin(angle),
                      (far ? high - corner : low + corner) + (far ? 1.0 : -1.0) * corner * std::cos(angle)};
            }
            for (const double height : row.heights_m)
                places.emplace_back(at.x(), at.y(), height);
        }
    }
    return places;
}

std::vector<PaintSample> every(std::size_t nth, const std::vector<PaintSample>& samples) {
    std::vector<PaintSample> some;
    for (std::size_t i = 0; i < samples.size(); i += nth)
        some.push_back(samples[i]);
    return some;
}

/// Do both put what the picture shows on the same ice, within so many metres?
bool same_ice(const TurningCamera& a, const TurningCamera& b, double within_m) {
    const RinkFit first = fit_of({a, CameraSpread::Zero()}), second = fit_of({b, CameraSpread::Zero()});
    for (const double x : {0.25, 0.5, 0.75}) {
        for (const double y : {0.5, 0.8}) {
            const ImagePoint at{x * a.image.width_px, y * a.image.height_px};
            const auto here = ice_at(first, at), there = ice_at(second, at);
            if (!here || !there || distance(*here, *there) > within_m) return false;
        }
    }
    return true;
}

void keep_distinct(std::vector<Climbed>& all, std::size_t most, ImageSize image, double apart_m) {
    std::ranges::sort(all, std::ranges::greater{}, &Climbed::likeness);
    std::vector<Climbed> kept;
    for (const Climbed& one : all) {
        if (kept.size() == most) break;
        if (std::ranges::none_of(kept, [&](const Climbed& other) {
                return same_ice(camera_of(one.view, image), camera_of(other.view, image), apart_m);
            }))
            kept.push_back(one);
    }
    all = std::move(kept);
}

/// From all places: views that look like the picture from afar.
std::vector<Climbed> rough_views(const RuleBook& rules, const std::vector<PaintSample>& samples,
                                 const LineMaps& lines, ImageSize image, const std::stop_token& stop) {
    const double unit = image.width_px / 1280.0;
    const ViewReach reach{0.5 * image.width_px, 2.4 * image.width_px, 48.0 * unit, 1.16, views_a_place, 1.2};
    const std::vector<PaintSample> fewer = every(3, samples);
    std::vector<Climbed> all;
    for (const Eigen::Vector3d& place : likely_places(rules)) {
        if (stop.stop_requested()) return {};
        TurningCamera camera;
        camera.image = image;
        camera.place_m = place;
        camera.camera_from_world << 1.0, 0.0, 0.0, 0.0, 0.0, -1.0, 0.0, 1.0, 0.0;
        for (const AimedView& view : swept_views(camera, fewer, lines.rough, reach)) {
            if (view.tilt_rad < 0.06) continue;
            all.push_back({orbit_view_of(camera_of(camera, view)), view.likeness});
        }
    }
    std::ranges::sort(all, std::ranges::greater{}, &Climbed::likeness);
    all.resize(std::min(all.size(), most_rough));
    return all;
}

struct Polished {
    PaintUpdate paint;
    PaintEvidence evidence;
};

/// Settled on the paint itself, place and lens open.
Polished open_polished(const TurningCamera& camera, const PictureView& picture,
                       const std::vector<PaintSample>& samples) {
    PaintUpdate paint{{camera, CameraSpread::Zero()}, 0.0, 0, 0};
    for (const double within_px : {12.0, 8.0, 5.0, 4.0}) {
        const double turn = 2.0 * within_px / camera.focal_px;
        paint.belief.spread.setZero();
        paint.belief.spread.diagonal() << turn * turn, turn * turn, 4e-4, 2.5e-3, 4.0, 4.0, 4.0, 1.6e-3;
        paint = update_by_paint(paint.belief, samples, picture, within_px);
    }
    return {paint, evidence_for(paint.belief.camera, samples, picture)};
}

/// Of the end in view.
RinkFit of_the_near_end(const RinkFit& fit, const RuleBook& rules) {
    const auto middle = ice_at(fit, {0.5 * fit.image.width_px, 0.6 * fit.image.height_px});
    return middle && middle->y_m > rules.red_line_centre.m ? turned(fit, rules) : fit;
}

} // namespace

bool is_clear(const ProposedFit& found) {
    return found.share >= least_proposed_share && found.sigmas >= least_proposed_sigmas &&
           found.rival_sigmas < most_proposed_rival * found.sigmas && found.sigma_m < most_proposed_sigma_m;
}

std::optional<ProposedFit> likeliest_fit(const PictureView& picture, const RuleBook& rules,
                                         const std::stop_token& stop) {
    const LineMaps lines = line_maps(grey_of(picture), 0.0);
    if (lines.pixels < fewest_pixels_of_lines) return std::nullopt;
    const std::vector<PaintSample> samples = paint_samples(rules), fewer = every(2, samples);
    const ImageSize image{picture.width_px, picture.height_px};
    const double unit = image.width_px / 1280.0;
    std::vector<Climbed> views = rough_views(rules, samples, lines, image, stop);
    for (Climbed& view : views)
        view = climbed(view.view, image, fewer, 0.8, lines.rough, 32.0 * unit, 8.0 * unit);
    keep_distinct(views, most_coarse, image, 1.0);
    for (Climbed& view : views)
        view = climbed(view.view, image, fewer, 0.8, lines.coarse, 12.0 * unit, 3.0 * unit);
    keep_distinct(views, most_fine, image, 0.5);
    for (Climbed& view : views)
        view = climbed(view.view, image, samples, 0.4, lines.fine, 4.0 * unit, 1.0 * unit);
    std::vector<Polished> all;
    for (const Climbed& view : views) {
        if (stop.stop_requested()) return std::nullopt;
        all.push_back(open_polished(camera_of(view.view, image), picture, samples));
    }
    const auto best =
        std::ranges::max_element(all, {}, [](const Polished& one) { return one.evidence.sigmas; });
    if (best == all.end()) return std::nullopt;
    ProposedFit found{of_the_near_end(fit_of(best->paint.belief), rules), best->evidence.share,
                      best->evidence.sigmas, 0.0, 0.0};
    for (const Polished& other : all) {
        if (!same_ice(other.paint.belief.camera, best->paint.belief.camera, 0.3))
            found.rival_sigmas = std::max(found.rival_sigmas, other.evidence.sigmas);
    }
    found.fit.rms_px = best->paint.rms_px;
    found.sigma_m = sigma_in_sight(found.fit);
    return found;
}

std::optional<ProposedFit> propose_fit(const PictureView& picture, const RuleBook& rules,
                                       const std::stop_token& stop) {
    std::optional<ProposedFit> found = likeliest_fit(picture, rules, stop);
    if (!found || !is_clear(*found)) return std::nullopt;
    found->sigma_m = widen_to_paint(found->fit);
    return found;
}

} // namespace ropeline
