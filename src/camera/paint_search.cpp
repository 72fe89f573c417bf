#include "camera/paint_search.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace ropeline {
namespace {

constexpr double least_darkness = 10.0; // of 255, of paint against the ice beside it
constexpr double least_hue = 5.0;       // of 255, of paint being more red or blue than the ice beside it
constexpr double hue_from_px = 5.0;     // film keeps the hue of lines this wide; thinner ones are only dark
constexpr double least_width_px = 0.4;  // thinner, a line is no longer darker than the ice by enough
constexpr double widest_px = 60.0;

std::optional<Eigen::Vector2d> pixel_of(const TurningCamera& camera, const Eigen::Vector2d& ice) {
    Eigen::Vector2d pixel;
    if (!project(camera, ice, pixel)) return std::nullopt;
    return pixel;
}

/// Red, green and blue between pixel centres; a pixel's centre lies at half-integers.
std::array<float, 3> colour_at(const PictureView& picture, double x, double y) {
    const double px = x - 0.5, py = y - 0.5;
    const int left = static_cast<int>(std::floor(px)), top = static_cast<int>(std::floor(py));
    const auto fx = static_cast<float>(px - left), fy = static_cast<float>(py - top);
    const std::uint8_t* const a = picture.pixel(left, top);
    const std::uint8_t* const b = picture.pixel(left, top + 1);
    std::array<float, 3> colour{};
    for (std::size_t i = 0; i < 3; ++i) {
        const float upper = static_cast<float>(a[i]) * (1.0F - fx) + static_cast<float>(a[i + 3]) * fx;
        const float lower = static_cast<float>(b[i]) * (1.0F - fx) + static_cast<float>(b[i + 3]) * fx;
        colour[i] = upper * (1.0F - fy) + lower * fy;
    }
    return colour;
}

struct Profile {
    std::array<double, 256> dark{}, hue{}; ///< sums from the start up to and including each place, half a
                                           ///< pixel apart
    std::array<double, 256> value{};
    int count = 0;

    double mean(const std::array<double, 256>& sums, int from,
                int to) const { // [from, to)
        return (sums[static_cast<std::size_t>(to - 1)] -
                (from > 0 ? sums[static_cast<std::size_t>(from - 1)] : 0.0)) /
               (to - from);
    }
};

constexpr double profile_step_px = 0.5;

/// Centre of what is darker than the ice beside it, the ice taken as a slope from one side to the other.
std::optional<double> centre_about(const Profile& profile, int at, int half_width, int flank) {
    const int from = at - half_width, to = at + half_width + 1;
    if (from - flank < 0 || to + flank > profile.count) return std::nullopt;
    const double left = profile.mean(profile.dark, from - flank, from),
                 right = profile.mean(profile.dark, to, to + flank);
    double mass = 0.0, moment = 0.0;
    for (int i = from; i < to; ++i) {
        const double ice = left + (right - left) * (i - from + 0.5) / (to - from);
        const double over = std::max(0.0, profile.value[static_cast<std::size_t>(i)] - ice);
        mass += over;
        moment += over * i;
    }
    if (!(mass > 0.0)) return std::nullopt;
    return moment / mass;
}

/// Best place of a painted stripe along the normal, relative to the middle of the profile; nothing where no
/// paint is.
std::optional<double> stripe_in(const Profile& profile, double width_px, double reach_px) {
    const int half_box = std::max(1, static_cast<int>(std::lround(width_px / 2.0 / profile_step_px)));
    const int flank = std::clamp(half_box, 3, 6), gap = 2;
    const int middle = profile.count / 2;
    const int reach = static_cast<int>(std::lround(reach_px / profile_step_px));
    double best = least_darkness;
    int best_at = -1;
    for (int at = middle - reach; at <= middle + reach; ++at) {
        const int left_end = at - half_box - gap, right_start = at + half_box + gap;
        if (left_end - flank < 0 || right_start + flank > profile.count) continue;
        const double inside = profile.mean(profile.dark, at - half_box, at + half_box);
        const double left = profile.mean(profile.dark, left_end - flank, left_end);
        const double right = profile.mean(profile.dark, right_start, right_start + flank);
        const double contrast = inside - std::max(left, right);
        // Far from the prediction a stripe must be the clearer.
        const double score = contrast * (1.0 - 0.5 * std::abs(at - middle) / (reach + 1.0));
        if (score <= best) continue;
        if (width_px >= hue_from_px) {
            const double hue = profile.mean(profile.hue, at - half_box, at + half_box) -
                               std::max(profile.mean(profile.hue, left_end - flank, left_end),
                                        profile.mean(profile.hue, right_start, right_start + flank));
            if (hue < least_hue) continue;
        }
        best = score;
        best_at = at;
    }
    if (best_at < 0) return std::nullopt;
    // The best place leans to where the line was expected; its centre must not.
    std::optional<double> centre;
    for (int pass = 0; pass < 3; ++pass) {
        const auto found = centre_about(profile, best_at, half_box + gap, flank);
        if (!found) break;
        centre = found;
        const int nearest = static_cast<int>(std::lround(*found));
        if (nearest == best_at) break;
        best_at = nearest;
    }
    if (!centre) return std::nullopt;
    return (*centre - middle) * profile_step_px;
}

std::optional<double> find_stripe(const PictureView& picture, const Eigen::Vector2d& at,
                                  const Eigen::Vector2d& across, double width_px, double reach_px,
                                  bool blue) {
    const int half_box = std::max(1, static_cast<int>(std::lround(width_px / 2.0 / profile_step_px)));
    const int half_count = static_cast<int>(std::lround(reach_px / profile_step_px)) + half_box + 2 + 6;
    Profile profile;
    profile.count = 2 * half_count + 1;
    if (profile.count > static_cast<int>(profile.dark.size())) return std::nullopt;
    const Eigen::Vector2d first = at - across * (half_count * profile_step_px);
    const Eigen::Vector2d last = at + across * (half_count * profile_step_px);
    for (const Eigen::Vector2d& end : {first, last}) {
        if (!(end.x() > 2.0 && end.y() > 2.0 && end.x() < picture.width_px - 2.0 &&
              end.y() < picture.height_px - 2.0)) {
            return std::nullopt;
        }
    }
    double dark = 0.0, hue = 0.0;
    for (int i = 0; i < profile.count; ++i) {
        const Eigen::Vector2d place = first + across * (i * profile_step_px);
        const auto [red, green, blue_part] = colour_at(picture, place.x(), place.y());
        const double value =
            255.0 - (blue ? red : green); // blue paint takes red out of the light, red paint green
        dark += value;
        hue += blue ? blue_part - red : red - green;
        const auto index = static_cast<std::size_t>(i);
        profile.value[index] = value;
        profile.dark[index] = dark;
        profile.hue[index] = hue;
    }
    return stripe_in(profile, width_px, reach_px);
}

} // namespace

std::vector<PaintSample> paint_samples(const RuleBook& rules, double spacing_m) {
    std::vector<PaintSample> samples;
    std::size_t lines = 0;
    for (const PaintLine& line : rink_paint(rules)) {
        if (line.width_m == 0.0) continue;
        double to_next = spacing_m / 2.0;
        for (std::size_t i = 1; i < line.points.size(); ++i) {
            const Eigen::Vector2d from{line.points[i - 1].x_m, line.points[i - 1].y_m};
            const Eigen::Vector2d way = Eigen::Vector2d{line.points[i].x_m, line.points[i].y_m} - from;
            const double far = way.norm();
            while (to_next < far) {
                samples.push_back({from + way * (to_next / far), way / far, line.width_m,
                                   line.kind == PaintKind::blue_line, lines});
                to_next += spacing_m;
            }
            to_next -= far;
        }
        ++lines;
    }
    return samples;
}

PaintLook look_for_paint(const TurningCamera& camera, const std::vector<PaintSample>& samples,
                         const PictureView& picture, double reach_px, int most) {
    struct Stretch {
        const PaintSample* sample;
        Eigen::Vector2d at, across;
        double px_per_m; ///< of a move square to the line, along `across`; its sign is its way
        double width_px;
    };
    std::vector<Stretch> in_sight;
    for (const PaintSample& sample : samples) {
        const auto at = pixel_of(camera, sample.at);
        const double margin = reach_px + 4.0;
        if (!at || !(at->x() > margin && at->y() > margin && at->x() < picture.width_px - margin &&
                     at->y() < picture.height_px - margin)) {
            continue;
        }
        const Eigen::Vector2d square{-sample.along.y(), sample.along.x()};
        const auto ahead = pixel_of(camera, sample.at + sample.along * 0.05);
        const auto aside = pixel_of(camera, sample.at + square * (sample.width_m / 2.0));
        if (!ahead || !aside) continue;
        const Eigen::Vector2d direction = (*ahead - *at).normalized();
        const Eigen::Vector2d across{-direction.y(), direction.x()};
        const double half_px = (*aside - *at).dot(across), width_px = 2.0 * std::abs(half_px);
        if (width_px < least_width_px || width_px > widest_px) continue;
        in_sight.push_back({&sample, *at, across, 2.0 * half_px / sample.width_m, width_px});
    }
    PaintLook look;
    const std::size_t stride = std::max<std::size_t>(1, in_sight.size() / static_cast<std::size_t>(most));
    for (std::size_t i = 0; i < in_sight.size(); i += stride) {
        const Stretch& stretch = in_sight[i];
        ++look.expected;
        const auto off = find_stripe(picture, stretch.at, stretch.across, stretch.width_px, reach_px,
                                     stretch.sample->blue);
        if (off) look.found.push_back({stretch.sample, stretch.across, *off, stretch.px_per_m});
    }
    return look;
}

} // namespace ropeline
