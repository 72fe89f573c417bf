#include "camera/view_grid.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ropeline {
namespace {

constexpr double zoom_step = 1.07;
constexpr int zooms_a_sweep = 8;
constexpr int fewest_in_sight = 24;
constexpr double few = 12.0; ///< so many samples more count in the spread: a handful proves nothing

/// Paint as directions from the camera's place: to the right of north, north, both by metre along the line.
struct Bearing {
    float x, y, along_x, along_y;
};

struct Sought {
    std::vector<Bearing> paint;
    float height_m;
    float cos_roll, sin_roll;
    const LineMap* lines;
    double middle_x, middle_y; ///< of the map
};

/// A sample as a camera of focal length one sees it.
struct Sight {
    float u, v;
    std::size_t way;
};

/// What one turn of the camera sees, for any zoom from `focal` on, focal length in pixels of the map.
void look(const Sought& sought, double pan, double tilt, double most_u, double most_v,
          std::vector<Sight>& sights) {
    const auto cos_pan = static_cast<float>(std::cos(pan)), sin_pan = static_cast<float>(std::sin(pan));
    const auto cos_tilt = static_cast<float>(std::cos(tilt)), sin_tilt = static_cast<float>(std::sin(tilt));
    const auto wide = static_cast<float>(most_u), high = static_cast<float>(most_v);
    sights.clear();
    for (const Bearing& paint : sought.paint) {
        const float right = paint.x * cos_pan - paint.y * sin_pan;
        const float level = paint.x * sin_pan + paint.y * cos_pan;
        const float ahead = level * cos_tilt + sought.height_m * sin_tilt;
        if (ahead < 1.0F || std::abs(right) > wide * ahead) continue;
        const float down = sought.height_m * cos_tilt - level * sin_tilt;
        if (std::abs(down) > high * ahead) continue;
        const float along_right = paint.along_x * cos_pan - paint.along_y * sin_pan;
        const float along_level = paint.along_x * sin_pan + paint.along_y * cos_pan;
        const float along_ahead = along_level * cos_tilt;
        const float to_right = along_right * ahead - right * along_ahead;
        const float to_down = -along_level * sin_tilt * ahead - down * along_ahead;
        const float u = right / ahead, v = down / ahead;
        const float c = sought.cos_roll, s = sought.sin_roll;
        sights.push_back(
            {c * u - s * v, s * u + c * v, way_of(c * to_right - s * to_down, s * to_right + c * to_down)});
    }
}

double likeness_of(const Sought& sought, const std::vector<Sight>& sights, double focal) {
    int sum = 0, count = 0;
    const auto f = static_cast<float>(focal);
    const auto middle_x = static_cast<float>(sought.middle_x), middle_y = static_cast<float>(sought.middle_y);
    const cv::Size size = sought.lines->near[0].size();
    const auto width = static_cast<float>(size.width), height = static_cast<float>(size.height);
    for (const Sight& sight : sights) {
        const float x = middle_x + f * sight.u, y = middle_y + f * sight.v;
        if (!(x >= 0.0F && y >= 0.0F && x < width && y < height)) continue;
        ++count;
        sum += sought.lines->at(sight.way, static_cast<int>(x), static_cast<int>(y));
    }
    if (count < fewest_in_sight) return 0.0;
    return sum / (127.0 * std::sqrt(count + few));
}

Sought sought_from(const TurningCamera& known, const std::vector<PaintSample>& samples, const LineMap& lines) {
    const double roll = roll_of(known);
    Sought sought{{},
                  static_cast<float>(known.place_m.z()),
                  static_cast<float>(std::cos(roll)),
                  static_cast<float>(std::sin(roll)),
                  &lines,
                  0.5 * known.image.width_px * lines.scale,
                  0.5 * known.image.height_px * lines.scale};
    for (const PaintSample& sample : samples) {
        const Eigen::Vector2d off = sample.at - known.place_m.head<2>();
        sought.paint.push_back({static_cast<float>(off.x()), static_cast<float>(off.y()),
                                static_cast<float>(sample.along.x()), static_cast<float>(sample.along.y())});
    }
    return sought;
}

/// Do the two look so nearly alike that settling would make them one?
bool alike(const AimedView& a, const AimedView& b, double within_px) {
    const double focal = std::max(a.focal_px, b.focal_px);
    return std::abs(std::remainder(a.pan_rad - b.pan_rad, 2.0 * std::numbers::pi)) * focal < within_px &&
           std::abs(a.tilt_rad - b.tilt_rad) * focal < within_px &&
           std::abs(std::log(a.focal_px / b.focal_px)) < 0.1;
}

void keep_best(std::vector<AimedView>& views, std::size_t most, double apart_px) {
    std::ranges::sort(views, std::ranges::greater{}, &AimedView::likeness);
    std::vector<AimedView> kept;
    for (const AimedView& view : views) {
        if (kept.size() == most) break;
        if (std::ranges::none_of(kept,
                                 [&](const AimedView& other) { return alike(view, other, apart_px); }))
            kept.push_back(view);
    }
    views = std::move(kept);
}

/// All turns, for zooms from one focal length up to twice it or so.
void sweep(const Sought& sought, double focal_px, int zooms, const ViewReach& reach,
           std::vector<AimedView>& into) {
    const double scale = sought.lines->scale;
    const double most_u = 1.02 * sought.middle_x / (focal_px * scale),
                 most_v = 1.02 * sought.middle_y / (focal_px * scale);
    const double step = reach.step_px / (focal_px * std::pow(zoom_step, 0.5 * zooms));
    const double half_high = std::atan(most_v);
    double nearest = 1e9, farthest = 0.0;
    for (const Bearing& paint : sought.paint) {
        nearest = std::min(nearest, std::hypot(double{paint.x}, double{paint.y}));
        farthest = std::max(farthest, std::hypot(double{paint.x}, double{paint.y}));
    }
    const double lowest = std::atan2(sought.height_m, farthest) - 0.6 * half_high;
    const double steepest = std::min(1.4, std::atan2(sought.height_m, nearest) + 0.3 * half_high);
    std::vector<Sight> sights;
    const std::size_t first = into.size();
    for (double pan = -std::numbers::pi; pan < std::numbers::pi; pan += step) {
        for (double tilt = lowest; tilt < steepest; tilt += step) {
            look(sought, pan, tilt, most_u, most_v, sights);
            if (static_cast<int>(sights.size()) < fewest_in_sight) continue;
            AimedView best;
            for (int zoom = 0; zoom < zooms; ++zoom) {
                const double tried = focal_px * std::pow(zoom_step, zoom);
                const double like = likeness_of(sought, sights, tried * scale);
                if (like > best.likeness) best = {pan, tilt, tried, like};
            }
            if (best.likeness > 1.0) into.push_back(best);
        }
    }
    std::vector<AimedView> found(into.begin() + static_cast<std::ptrdiff_t>(first), into.end());
    keep_best(found, reach.most, 1.5 * reach.step_px);
    into.resize(first);
    into.insert(into.end(), found.begin(), found.end());
}

/// Uphill in turn, tilt and zoom, in steps that shrink.
AimedView climbed(const Sought& sought, AimedView at, double step_px, std::vector<Sight>& sights) {
    const double scale = sought.lines->scale;
    const auto tried = [&](double pan, double tilt, double focal) {
        const double wide = 1.02 * sought.middle_x / (focal * scale),
                     high = 1.02 * sought.middle_y / (focal * scale);
        look(sought, pan, tilt, wide, high, sights);
        return AimedView{pan, tilt, focal, likeness_of(sought, sights, focal * scale)};
    };
    at = tried(at.pan_rad, at.tilt_rad, at.focal_px);
    for (; step_px > 0.7; step_px *= 0.5) {
        for (int round = 0; round < 4; ++round) {
            const double start = at.likeness, turn = step_px / at.focal_px;
            for (const double way : {1.0, -1.0}) {
                for (const AimedView& next :
                     {tried(at.pan_rad + way * turn, at.tilt_rad, at.focal_px),
                      tried(at.pan_rad, at.tilt_rad + way * turn, at.focal_px),
                      tried(at.pan_rad, at.tilt_rad, at.focal_px * (1.0 + way * step_px / 320.0))}) {
                    if (next.likeness > at.likeness) at = next;
                }
            }
            if (at.likeness <= start) break;
        }
    }
    return at;
}

} // namespace

double roll_of(const TurningCamera& known) {
    // The picture's right, against the level right of where it looks.
    const Eigen::Vector3d ahead = known.camera_from_world.row(2).transpose();
    const Eigen::Vector3d right = ahead.cross(Eigen::Vector3d::UnitZ()).normalized();
    const Eigen::Vector3d seen = known.camera_from_world * right;
    return std::atan2(seen.y(), seen.x());
}

AimedView aimed_view_of(const TurningCamera& known) {
    const Eigen::Vector3d ahead = known.camera_from_world.row(2).transpose();
    return {std::atan2(ahead.x(), ahead.y()), std::asin(std::clamp(-ahead.z(), -1.0, 1.0)), known.focal_px,
            0.0};
}

TurningCamera camera_of(const TurningCamera& known, const AimedView& view) {
    TurningCamera camera = known;
    const double roll = roll_of(known);
    const Eigen::Vector3d ahead{std::sin(view.pan_rad) * std::cos(view.tilt_rad),
                                std::cos(view.pan_rad) * std::cos(view.tilt_rad), -std::sin(view.tilt_rad)};
    const Eigen::Vector3d right = ahead.cross(Eigen::Vector3d::UnitZ()).normalized();
    Eigen::Matrix3d axes;
    axes << right.transpose(), ahead.cross(right).transpose(), ahead.transpose();
    camera.camera_from_world =
        Eigen::AngleAxisd(roll, Eigen::Vector3d::UnitZ()).toRotationMatrix() * axes;
    camera.focal_px = view.focal_px;
    return camera;
}

std::vector<AimedView> likely_views(const TurningCamera& known, const std::vector<PaintSample>& samples,
                                    const LineMaps& lines, const ViewReach& reach) {
    std::vector<PaintSample> fewer;
    for (std::size_t i = 0; i < samples.size(); i += 2)
        fewer.push_back(samples[i]);
    const Sought coarse = sought_from(known, fewer, lines.coarse);
    std::vector<AimedView> views;
    const double octave = std::pow(zoom_step, zooms_a_sweep);
    for (double focal = reach.from_focal_px; focal < reach.to_focal_px; focal *= octave)
        sweep(coarse, focal, zooms_a_sweep, reach, views);
    keep_best(views, reach.most, 1.5 * reach.step_px);
    const Sought fine = sought_from(known, samples, lines.fine);
    std::vector<Sight> sights;
    for (AimedView& view : views)
        view = climbed(fine, view, 0.5 * reach.step_px, sights);
    keep_best(views, reach.most, 6.0);
    return views;
}

} // namespace ropeline
