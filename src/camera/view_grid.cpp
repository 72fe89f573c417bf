#include "camera/view_grid.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ropeline {
namespace {

constexpr double zoom_a_sweep = 1.72; ///< from one sweep to the next, each with its own step of turns
constexpr int fewest_in_sight = 16;
constexpr float fewest_counted = 16.0F;
constexpr float few = 12.0F; ///< so many samples more count in the spread: a handful proves nothing

/// Paint as directions from the camera's place: to the right of north, north, both by metre along the line.
struct Bearing {
    float x, y, along_x, along_y, width_m;
};

struct Sought {
    std::vector<Bearing> paint;
    float spacing_m;
    float height_m;
    float cos_roll, sin_roll;
    const LineMap* lines;
    double middle_x, middle_y; ///< of the map
};

/// A sample as a camera of focal length one sees it.
struct Sight {
    float u, v;
    std::size_t way;
    float weight;
};

/// How much a picture shows of the plane one focal length ahead, either way.
struct Field {
    float wide, high;
};

Field field_of(const Sought& sought, double focal_map_px) {
    const double roll = std::abs(sought.sin_roll);
    return {static_cast<float>((sought.middle_x + roll * sought.middle_y) / focal_map_px),
            static_cast<float>((sought.middle_y + roll * sought.middle_x) / focal_map_px)};
}

/// Paint as a camera at one pan has it, whatever its tilt.
struct Panned {
    float below_rad; ///< the horizon, seen from the side
    float right, level, along_right, along_level, width_m;
};

/// What may come into the field at some tilt, farthest first; every `stride`th of it.
void pan_to(const Sought& sought, double pan, Field field, std::size_t stride, std::vector<Panned>& panned) {
    const auto c = static_cast<float>(std::cos(pan)), s = static_cast<float>(std::sin(pan));
    const float wide = field.wide * field.wide, height = sought.height_m;
    panned.clear();
    for (std::size_t i = 0; i < sought.paint.size(); i += stride) {
        const Bearing& paint = sought.paint[i];
        const float right = paint.x * c - paint.y * s, level = paint.x * s + paint.y * c;
        if (level < 0.5F || right * right > wide * (level * level + height * height)) continue;
        panned.push_back({std::atan2(height, level), right, level, paint.along_x * c - paint.along_y * s,
                          paint.along_x * s + paint.along_y * c, paint.width_m});
    }
    std::ranges::sort(panned, {}, &Panned::below_rad);
}

/// What a tilt brings into the field, weighed as at this focal length.
void tilt_to(const Sought& sought, const std::vector<Panned>& panned, double tilt, Field field,
             double focal_px, std::vector<Sight>& sights) {
    const auto cos_tilt = static_cast<float>(std::cos(tilt)), sin_tilt = static_cast<float>(std::sin(tilt));
    const double half_high = std::atan(field.high);
    const float c = sought.cos_roll, s = sought.sin_roll;
    const auto film_px = static_cast<float>(focal_px),
               map_px = film_px * static_cast<float>(sought.lines->scale);
    sights.clear();
    const auto first =
        std::ranges::lower_bound(panned, static_cast<float>(tilt - half_high), {}, &Panned::below_rad);
    const auto last = std::ranges::upper_bound(first, panned.end(), static_cast<float>(tilt + half_high), {},
                                               &Panned::below_rad);
    for (auto paint = first; paint != last; ++paint) {
        const float ahead = paint->level * cos_tilt + sought.height_m * sin_tilt;
        if (std::abs(paint->right) > field.wide * ahead) continue;
        const float down = sought.height_m * cos_tilt - paint->level * sin_tilt;
        const float along_ahead = paint->along_level * cos_tilt;
        const float to_right = paint->along_right * ahead - paint->right * along_ahead;
        const float to_down = -paint->along_level * sin_tilt * ahead - down * along_ahead;
        const float stretch = std::sqrt(to_right * to_right + to_down * to_down);
        const float weight = weight_of(paint->width_m * film_px * sought.height_m / (ahead * stretch),
                                       sought.spacing_m * map_px * stretch / (ahead * ahead));
        if (weight <= 0.0F) continue;
        const float u = paint->right / ahead, v = down / ahead;
        sights.push_back({c * u - s * v, s * u + c * v,
                          way_of(c * to_right - s * to_down, s * to_right + c * to_down), weight});
    }
}

double likeness_of(const Sought& sought, const std::vector<Sight>& sights, double focal) {
    float sum = 0.0F, count = 0.0F;
    const auto f = static_cast<float>(focal);
    const auto middle_x = static_cast<float>(sought.middle_x), middle_y = static_cast<float>(sought.middle_y);
    const cv::Size size = sought.lines->near[0].size();
    const auto width = static_cast<float>(size.width), height = static_cast<float>(size.height);
    for (const Sight& sight : sights) {
        const float x = middle_x + f * sight.u, y = middle_y + f * sight.v;
        if (!(x >= 0.0F && y >= 0.0F && x < width && y < height)) continue;
        count += sight.weight;
        sum += sight.weight *
               static_cast<float>(sought.lines->at(sight.way, static_cast<int>(x), static_cast<int>(y)));
    }
    if (count < fewest_counted) return 0.0;
    return sum / (127.0F * std::sqrt(count + few));
}

Sought sought_from(const TurningCamera& known, const std::vector<PaintSample>& samples, double spacing_m,
                   const LineMap& lines) {
    const double roll = roll_of(known);
    Sought sought{{},
                  static_cast<float>(spacing_m),
                  static_cast<float>(known.place_m.z()),
                  static_cast<float>(std::cos(roll)),
                  static_cast<float>(std::sin(roll)),
                  &lines,
                  0.5 * known.image.width_px * lines.scale,
                  0.5 * known.image.height_px * lines.scale};
    for (const PaintSample& sample : samples) {
        const Eigen::Vector2d off = sample.at - known.place_m.head<2>();
        sought.paint.push_back({static_cast<float>(off.x()), static_cast<float>(off.y()),
                                static_cast<float>(sample.along.x()), static_cast<float>(sample.along.y()),
                                static_cast<float>(sample.width_m)});
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
        if (std::ranges::none_of(kept, [&](const AimedView& other) { return alike(view, other, apart_px); }))
            kept.push_back(view);
    }
    views = std::move(kept);
}

/// All turns, for zooms from one focal length up to the next sweep's.
void sweep(const Sought& sought, double focal_px, std::size_t stride, const ViewReach& reach,
           std::vector<AimedView>& into) {
    const double scale = sought.lines->scale;
    const Field field = field_of(sought, focal_px * scale);
    const double step = reach.step_px / (focal_px * std::sqrt(zoom_a_sweep));
    std::vector<double> zooms;
    for (double zoom = focal_px; zoom < focal_px * zoom_a_sweep; zoom *= reach.zoom_step)
        zooms.push_back(zoom);
    const double half_high = std::atan(field.high);
    std::vector<AimedView> found;
    std::vector<Panned> panned;
    std::vector<Sight> sights;
    for (double pan = -std::numbers::pi; pan < std::numbers::pi; pan += step) {
        pan_to(sought, pan, field, stride, panned);
        if (static_cast<int>(panned.size()) < fewest_in_sight) continue;
        const double lowest = double{panned.front().below_rad} - 0.6 * half_high;
        const double steepest = std::min(1.4, double{panned.back().below_rad} + 0.3 * half_high);
        for (double tilt = lowest; tilt < steepest; tilt += step) {
            tilt_to(sought, panned, tilt, field, focal_px * std::sqrt(zoom_a_sweep), sights);
            if (static_cast<int>(sights.size()) < fewest_in_sight) continue;
            AimedView best;
            for (const double tried : zooms) {
                const double like = likeness_of(sought, sights, tried * scale);
                if (like > best.likeness) best = {pan, tilt, tried, like};
            }
            if (best.likeness > 1.0) found.push_back(best);
        }
    }
    keep_best(found, reach.most, 1.5 * reach.step_px);
    into.insert(into.end(), found.begin(), found.end());
}

/// Uphill in turn, tilt and zoom, in steps that shrink.
AimedView climbed(const Sought& sought, AimedView at, double step_px) {
    const double scale = sought.lines->scale;
    std::vector<Panned> panned;
    std::vector<Sight> sights;
    const auto tried = [&](double pan, double tilt, double focal) {
        const Field field = field_of(sought, focal * scale);
        pan_to(sought, pan, field, 1, panned);
        tilt_to(sought, panned, tilt, field, focal, sights);
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

TurningCamera camera_of(const TurningCamera& known, const AimedView& view) {
    TurningCamera camera = known;
    const double roll = roll_of(known);
    const Eigen::Vector3d ahead{std::sin(view.pan_rad) * std::cos(view.tilt_rad),
                                std::cos(view.pan_rad) * std::cos(view.tilt_rad), -std::sin(view.tilt_rad)};
    camera.camera_from_world =
        Eigen::AngleAxisd(roll, Eigen::Vector3d::UnitZ()).toRotationMatrix() * level_axes(ahead);
    camera.focal_px = view.focal_px;
    return camera;
}

std::vector<AimedView> swept_views(const TurningCamera& known, const std::vector<PaintSample>& samples,
                                   const LineMap& lines, const ViewReach& reach) {
    const Sought sought = sought_from(known, samples, reach.spacing_m, lines);
    std::vector<AimedView> views;
    for (double focal = reach.from_focal_px; focal < reach.to_focal_px; focal *= zoom_a_sweep)
        sweep(sought, focal, focal < 1.5 * reach.from_focal_px ? 2 : 1, reach,
              views); // a wide view shows more
    keep_best(views, reach.most, 1.5 * reach.step_px);
    return views;
}

std::vector<AimedView> likely_views(const TurningCamera& known, const std::vector<PaintSample>& samples,
                                    const LineMaps& lines, const ViewReach& reach) {
    std::vector<PaintSample> fewer;
    for (std::size_t i = 0; i < samples.size(); i += 2)
        fewer.push_back(samples[i]);
    ViewReach coarsely = reach;
    coarsely.spacing_m *= 2.0;
    std::vector<AimedView> views = swept_views(known, fewer, lines.coarse, coarsely);
    const Sought fine = sought_from(known, samples, reach.spacing_m, lines.fine);
    for (AimedView& view : views)
        view = climbed(fine, view, 0.5 * reach.step_px);
    keep_best(views, reach.most, 6.0);
    return views;
}

} // namespace ropeline
