#include "camera/orbit_view.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {
namespace {

constexpr float fewest_seen = 16.0F;
constexpr float seen_more = 12.0F; ///< so many samples more count in the spread: a handful proves nothing
constexpr std::size_t numbers = 7;

/// Could a camera of a film stand so?
bool possible(const OrbitView& view) {
    const double distance = std::exp(view.log_distance), height = distance * std::sin(view.elevation_rad);
    return view.elevation_rad > 0.05 && view.elevation_rad < 1.3 && height > 1.0 && height < 30.0 &&
           distance > 4.0 && distance < 90.0 && std::abs(view.roll_rad) < 0.08;
}

/// One number moved so that the picture about 300 pixels off its middle moves by `px`.
OrbitView stepped(OrbitView view, std::size_t number, double px) {
    constexpr double arm_px = 300.0;
    const double focal_px = std::exp(view.log_px_per_m + view.log_distance);
    const Eigen::Vector2d to_camera{std::sin(view.azimuth_rad), std::cos(view.azimuth_rad)};
    const double metres = px * std::exp(-view.log_px_per_m);
    switch (number) {
    case 0:
        view.aim += Eigen::Vector2d{to_camera.y(), -to_camera.x()} * metres;
        break;
    case 1:
        view.aim += to_camera * (metres / std::sin(view.elevation_rad));
        break;
    case 2:
        view.azimuth_rad += px / arm_px;
        break;
    case 3:
        view.elevation_rad += px / arm_px;
        break;
    case 4:
        view.log_px_per_m += px / arm_px;
        break;
    case 5:
        view.log_distance += std::clamp(px * focal_px / (arm_px * arm_px), -0.2, 0.2);
        break;
    default:
        view.roll_rad += px / arm_px;
    }
    return view;
}

/// What is in the picture, or nearly.
std::vector<PaintSample> about_in_view(const TurningCamera& camera, const std::vector<PaintSample>& samples) {
    std::vector<PaintSample> seen;
    const double across = 0.2 * camera.image.width_px, down = 0.2 * camera.image.height_px;
    for (const PaintSample& sample : samples) {
        Eigen::Vector2d at;
        if (project(camera, sample.at, at) && at.x() > -across && at.y() > -down &&
            at.x() < camera.image.width_px + across && at.y() < camera.image.height_px + down)
            seen.push_back(sample);
    }
    return seen;
}

} // namespace

TurningCamera camera_of(const OrbitView& view, ImageSize image) {
    const double flat = std::cos(view.elevation_rad);
    const Eigen::Vector3d back{flat * std::sin(view.azimuth_rad), flat * std::cos(view.azimuth_rad),
                               std::sin(view.elevation_rad)};
    TurningCamera camera;
    camera.camera_from_world =
        Eigen::AngleAxisd(view.roll_rad, Eigen::Vector3d::UnitZ()).toRotationMatrix() * level_axes(-back);
    camera.focal_px = std::exp(view.log_px_per_m + view.log_distance);
    camera.place_m = Eigen::Vector3d{view.aim.x(), view.aim.y(), 0.0} + back * std::exp(view.log_distance);
    camera.image = image;
    return camera;
}

OrbitView orbit_view_of(const TurningCamera& camera) {
    const Eigen::Vector3d ahead = camera.camera_from_world.row(2).transpose();
    const double distance = std::min(90.0, camera.place_m.z() / std::max(0.02, -ahead.z()));
    OrbitView view;
    view.aim = (camera.place_m + distance * ahead).head<2>();
    view.azimuth_rad = std::atan2(-ahead.x(), -ahead.y());
    view.elevation_rad = std::asin(std::clamp(-ahead.z(), 0.02, 1.0));
    view.log_distance = std::log(distance);
    view.log_px_per_m = std::log(camera.focal_px / distance);
    return view;
}

double likeness(const TurningCamera& camera, const std::vector<PaintSample>& samples, double spacing_m,
                const LineMap& lines) {
    const Eigen::Matrix3f turn = camera.camera_from_world.cast<float>();
    const Eigen::Vector3f off = (camera.camera_from_world * camera.place_m).cast<float>();
    const auto focal = static_cast<float>(camera.focal_px * lines.scale);
    const cv::Size size = lines.near[0].size();
    const auto width = static_cast<float>(size.width), height = static_cast<float>(size.height);
    const auto height_m = static_cast<float>(camera.place_m.z()),
               spacing = static_cast<float>(spacing_m * lines.scale),
               film_px = static_cast<float>(camera.focal_px);
    float sum = 0.0F, count = 0.0F;
    for (const PaintSample& sample : samples) {
        const Eigen::Vector3f seen = turn.leftCols<2>() * sample.at.cast<float>() - off;
        if (seen.z() < 1.0F) continue;
        const float x = 0.5F * width + focal * seen.x() / seen.z(),
                    y = 0.5F * height + focal * seen.y() / seen.z();
        if (!(x >= 0.0F && y >= 0.0F && x < width && y < height)) continue;
        const Eigen::Vector3f along = turn.leftCols<2>() * sample.along.cast<float>();
        const float right = along.x() * seen.z() - seen.x() * along.z(),
                    down = along.y() * seen.z() - seen.y() * along.z();
        const float stretch = std::sqrt(right * right + down * down);
        const float weight =
            weight_of(static_cast<float>(sample.width_m) * film_px * height_m / (seen.z() * stretch),
                      spacing * film_px * stretch / (seen.z() * seen.z()));
        count += weight;
        sum += weight *
               static_cast<float>(lines.at(way_of(right, down), static_cast<int>(x), static_cast<int>(y)));
    }
    if (count < fewest_seen) return 0.0;
    return sum / (127.0F * std::sqrt(count + seen_more));
}

Climbed climbed(const OrbitView& from, ImageSize image, const std::vector<PaintSample>& samples,
                double spacing_m, const LineMap& lines, double step_px, double least_px) {
    const std::vector<PaintSample> used = about_in_view(camera_of(from, image), samples);
    Climbed at{from, likeness(camera_of(from, image), used, spacing_m, lines)};
    for (; step_px >= least_px; step_px *= 0.5) {
        for (int round = 0; round < 6; ++round) {
            const double start = at.likeness;
            for (std::size_t number = 0; number < numbers; ++number) {
                for (const double px : {step_px, -step_px}) {
                    const OrbitView tried = stepped(at.view, number, px);
                    if (!possible(tried)) continue;
                    const double like = likeness(camera_of(tried, image), used, spacing_m, lines);
                    if (like > at.likeness) at = {tried, like};
                }
            }
            if (at.likeness < start + 0.02) break;
        }
    }
    return at;
}

} // namespace ropeline
