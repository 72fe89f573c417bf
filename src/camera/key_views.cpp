#include "camera/key_views.h"

#include "camera/dense.h"

#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

constexpr int window_px = 17;
constexpr int pyramid_levels = 4;
constexpr std::size_t most_features = 260;
const cv::Size spread_cells{10, 6}; // so that a crowd or a graphic cannot hold most features
constexpr int most_in_cell = 8;
const cv::Size trust_cells{40, 24};
constexpr int fewest_features = 24;
constexpr double least_view_share = 0.3;
constexpr double feature_sigma_px = 0.8; // of one feature; patches slide with zoom and view

using Step4 = Eigen::Matrix<double, 4, 1>;

Eigen::Vector2d straight_pixel(const TurningCamera& camera, cv::Point2f at) {
    // OpenCV counts from pixel centres, we from the corner of the first pixel.
    return straightened(lens_of(camera.image), camera.radial, Eigen::Vector2d{at.x + 0.5, at.y + 0.5});
}

Eigen::Vector3d ray_of(const TurningCamera& camera, cv::Point2f at) {
    const Eigen::Vector2d offset = straight_pixel(camera, at) - lens_of(camera.image).middle_px;
    return camera.camera_from_world.transpose() * Eigen::Vector3d{offset.x(), offset.y(), camera.focal_px};
}

/// Pixel in OpenCV's count of a far point in direction `ray`; behind the camera: far outside.
cv::Point2f pixel_of_ray(const TurningCamera& camera, const Eigen::Vector3d& ray) {
    const Eigen::Vector3d seen = camera.camera_from_world * ray;
    constexpr float outside = -1e4F;
    if (!(seen.z() > 0.0)) return {outside, outside};
    const Lens lens = lens_of(camera.image);
    Eigen::Vector2d pixel;
    if (!bent(lens, camera.radial, lens.middle_px + camera.focal_px * seen.hnormalized(), pixel))
        return {outside, outside};
    return {static_cast<float>(pixel.x() - 0.5), static_cast<float>(pixel.y() - 0.5)};
}

cv::Point cell_of(cv::Point2f at, cv::Size picture, cv::Size cells) {
    return {std::clamp(
                static_cast<int>(at.x * static_cast<float>(cells.width) / static_cast<float>(picture.width)),
                0, cells.width - 1),
            std::clamp(static_cast<int>(at.y * static_cast<float>(cells.height) /
                                        static_cast<float>(picture.height)),
                       0, cells.height - 1)};
}

struct TurnFit {
    TurningCamera camera;
    Eigen::Matrix4d information = Eigen::Matrix4d::Zero();
    int agreed = 0;
    double rms_px = 0.0;
};

/// Turn and zoom that carry the rays onto the pixels; robust Gauss-Newton.
TurnFit fit_turn(TurningCamera camera, const std::vector<Eigen::Vector3d>& rays,
                 const std::vector<Eigen::Vector2d>& pixels) {
    TurnFit fit;
    const Lens lens = lens_of(camera.image);
    double scale_px = 3.0;
    for (int round = 0; round < 8; ++round) {
        fit.information.setZero();
        Step4 pull = Step4::Zero();
        double squared = 0.0;
        fit.agreed = 0;
        for (std::size_t i = 0; i < rays.size(); ++i) {
            const Eigen::Vector3d seen = camera.camera_from_world * rays[i];
            if (!(seen.z() > 0.0)) continue;
            const double x = seen.x() / seen.z(), y = seen.y() / seen.z(), f = camera.focal_px;
            const Eigen::Vector2d off = pixels[i] - lens.middle_px - f * Eigen::Vector2d{x, y};
            // A turn w moves `seen` by w x seen; a zoom scales.
            Eigen::Matrix<double, 2, 4> slope;
            slope << -f * x * y, f * (1.0 + x * x), -f * y, f * x, -f * (1.0 + y * y), f * x * y, f * x,
                f * y;
            const double sigmas = off.norm() / scale_px;
            const double trust = 1.0 / ((1.0 + sigmas * sigmas) * (1.0 + sigmas * sigmas));
            fit.information += slope.transpose() * slope * trust;
            pull += slope.transpose() * off * trust;
            if (off.norm() < 2.5 * scale_px) {
                squared += off.squaredNorm();
                ++fit.agreed;
            }
        }
        const Step4 step = solved(fit.information, pull);
        if (!step.allFinite()) break;
        CameraStep whole = CameraStep::Zero();
        whole.head<4>() = step;
        camera = moved(camera, whole);
        fit.rms_px = fit.agreed > 0 ? std::sqrt(squared / (2.0 * fit.agreed)) : 0.0;
        if (scale_px <= 0.8 && step.norm() * camera.focal_px < 1e-3) break;
        scale_px = std::max(0.8, scale_px * 0.6);
    }
    fit.camera = camera;
    return fit;
}

/// The same, near the guess first: players who skate together can outnumber what stands still. Where fewer than
/// `fewest` agree on that, of those that one plane's motion explains.
/// In      rays of the key view, where they are seen now, and the pictures' places that they were tracked between.
std::optional<TurnFit> turn_of_most(const TurningCamera& guess, const std::vector<Eigen::Vector3d>& rays,
                                    const std::vector<Eigen::Vector2d>& pixels,
                                    const std::vector<cv::Point2f>& from, const std::vector<cv::Point2f>& to,
                                    int fewest) {
    const TurnFit near_guess = fit_turn(guess, rays, pixels);
    if (near_guess.agreed >= fewest) return near_guess;
    std::vector<unsigned char> inlier;
    if (cv::findHomography(from, to, cv::RANSAC, 2.5, inlier, 500, 0.995).empty()) return std::nullopt;
    std::vector<Eigen::Vector3d> used_rays;
    std::vector<Eigen::Vector2d> used_pixels;
    for (std::size_t i = 0; i < to.size(); ++i) {
        if (!inlier[i]) continue;
        used_rays.push_back(rays[i]);
        used_pixels.push_back(pixels[i]);
    }
    if (static_cast<int>(used_rays.size()) < fewest_features) return std::nullopt;
    return fit_turn(guess, used_rays, used_pixels);
}

} // namespace

Brightness brightness_of(const cv::Mat& grey) {
    cv::Mat small;
    cv::resize(grey, small, {64, 36}, 0, 0, cv::INTER_AREA);
    cv::Scalar mean, spread;
    cv::meanStdDev(small, mean, spread);
    return {mean[0], std::max(1.0, spread[0])};
}

cv::Mat as_bright_as(const cv::Mat& grey, const Brightness& from, const Brightness& to) {
    cv::Mat even;
    const double gain = to.spread / from.spread;
    grey.convertTo(even, CV_8U, gain, to.mean - gain * from.mean);
    return even;
}

void FeatureTrust::note(cv::Point2f at, bool agrees, cv::Size picture) {
    if (good_.empty()) {
        good_ = cv::Mat1f::zeros(trust_cells);
        bad_ = cv::Mat1f::zeros(trust_cells);
    }
    const cv::Point cell = cell_of(at, picture, trust_cells);
    (agrees ? good_ : bad_)(cell) += 1.0F;
}

void FeatureTrust::fade() {
    constexpr double kept = 0.985;
    good_ *= kept;
    bad_ *= kept;
}

bool FeatureTrust::barred(cv::Point2f at, cv::Size picture) const {
    if (good_.empty()) return false;
    const cv::Point cell = cell_of(at, picture, trust_cells);
    return bad_(cell) > 4.0F + 2.0F * good_(cell);
}

KeyView key_view(const cv::Mat& grey, const CameraBelief& belief, bool on_paint, const FeatureTrust& trust) {
    KeyView key{grey, {}, {}, belief, on_paint, brightness_of(grey)};
    cv::Mat half;
    cv::pyrDown(grey, half);
    std::vector<cv::Point2f> candidates; // best first
    cv::goodFeaturesToTrack(half, candidates, 3 * most_features, 0.004, 7.0);
    cv::Mat1i taken(spread_cells, 0);
    for (const cv::Point2f& candidate : candidates) {
        const cv::Point2f at = candidate * 2.0F;
        int& here = taken(cell_of(at, grey.size(), spread_cells));
        if (here >= most_in_cell || key.points.size() >= most_features || trust.barred(at, grey.size()))
            continue;
        ++here;
        key.points.push_back(at);
    }
    const auto right = static_cast<float>(grey.cols - window_px),
               bottom = static_cast<float>(grey.rows - window_px);
    std::erase_if(key.points, [&](cv::Point2f p) {
        return p.x < window_px || p.y < window_px || p.x > right || p.y > bottom;
    });
    key.strikes.assign(key.points.size(), 0);
    return key;
}

void weed(KeyView& key, const std::vector<Tracked::Seen>& seen, const TurningCamera& camera,
          FeatureTrust& trust) {
    constexpr double moving_px = 3.0;
    constexpr int most_strikes = 2;
    const Lens lens = lens_of(camera.image);
    trust.fade();
    for (const Tracked::Seen& one : seen) {
        const Eigen::Vector3d expected =
            camera.camera_from_world * ray_of(key.belief.camera, key.points[one.feature]);
        const Eigen::Vector2d off = one.pixel - lens.middle_px - camera.focal_px * expected.hnormalized();
        int& strikes = key.strikes[one.feature];
        const bool agrees = expected.z() > 0.0 && off.norm() < moving_px;
        strikes = agrees ? std::max(0, strikes - 1) : strikes + 1;
        trust.note(one.at, agrees, key.grey.size());
        if (!agrees) trust.note(key.points[one.feature], false,
                                key.grey.size()); // what stays is there still
    }
    std::vector<cv::Point2f> points;
    std::vector<int> strikes;
    for (std::size_t i = 0; i < key.points.size(); ++i) {
        if (key.strikes[i] > most_strikes) continue;
        points.push_back(key.points[i]);
        strikes.push_back(key.strikes[i]);
    }
    key.points = std::move(points);
    key.strikes = std::move(strikes);
}

namespace {

/// Features of a key view that the camera should have in its picture.
struct FeaturesInSight {
    std::vector<cv::Point2f> from, expected;
    std::vector<Eigen::Vector3d> rays;
    std::vector<std::size_t> features;
};

FeaturesInSight features_in_sight(const KeyView& key, const TurningCamera& guess, cv::Size picture) {
    FeaturesInSight all;
    const auto margin = static_cast<float>(window_px / 2);
    for (std::size_t i = 0; i < key.points.size(); ++i) {
        const Eigen::Vector3d ray = ray_of(key.belief.camera, key.points[i]);
        const cv::Point2f expected = pixel_of_ray(guess, ray);
        if (expected.x < margin || expected.y < margin ||
            expected.x > static_cast<float>(picture.width) - margin ||
            expected.y > static_cast<float>(picture.height) - margin)
            continue;
        all.from.push_back(key.points[i]);
        all.expected.push_back(expected);
        all.rays.push_back(ray);
        all.features.push_back(i);
    }
    return all;
}

} // namespace

std::optional<Tracked> track(const KeyView& key, std::vector<cv::Mat>& key_pyramid, GreyFrame& frame,
                             const TurningCamera& near) {
    TurningCamera guess = near;
    guess.radial = key.belief.camera.radial; // of one lens: the key view's rays went through this one
    const auto [from, expected, rays, features] = features_in_sight(key, guess, frame.grey.size());
    if (static_cast<int>(from.size()) < fewest_features) return std::nullopt;
    if (frame.pyramid.empty()) {
        cv::buildOpticalFlowPyramid(frame.grey, frame.pyramid, {window_px, window_px}, pyramid_levels, false);
    }
    if (key_pyramid.empty()) {
        cv::buildOpticalFlowPyramid(key.grey, key_pyramid, {window_px, window_px}, pyramid_levels, true);
    }
    std::vector<cv::Point2f> to = expected;
    std::vector<unsigned char> status;
    std::vector<float> errors;
    cv::calcOpticalFlowPyrLK(key_pyramid, frame.pyramid, from, to, status, errors, {window_px, window_px},
                             pyramid_levels, {cv::TermCriteria::COUNT | cv::TermCriteria::EPS, 20, 0.02},
                             cv::OPTFLOW_USE_INITIAL_FLOW, 1e-3);
    std::vector<cv::Point2f> kept_from, kept_to;
    std::vector<Eigen::Vector3d> kept_rays;
    Tracked tracked;
    for (std::size_t i = 0; i < from.size(); ++i) {
        if (!status[i]) continue;
        kept_from.push_back(from[i]);
        kept_to.push_back(to[i]);
        kept_rays.push_back(rays[i]);
        tracked.seen.push_back({features[i], straight_pixel(guess, to[i]), to[i]});
    }
    if (static_cast<int>(kept_from.size()) < fewest_features) return std::nullopt;
    std::vector<Eigen::Vector2d> kept_pixels;
    for (const Tracked::Seen& one : tracked.seen)
        kept_pixels.push_back(one.pixel);
    const int fewest = std::max(
        fewest_features, static_cast<int>(std::ceil(least_view_share * static_cast<double>(from.size()))));
    const auto turn = turn_of_most(guess, kept_rays, kept_pixels, kept_from, kept_to, fewest);
    if (!turn) return std::nullopt;
    tracked.features = turn->agreed;
    tracked.share = turn->agreed / static_cast<double>(from.size());
    tracked.rms_px = turn->rms_px;
    if (turn->agreed < fewest_features || tracked.share < least_view_share) return std::nullopt;
    tracked.belief.camera = turn->camera;
    tracked.belief.camera.place_m = key.belief.camera.place_m;
    // Neighbouring features err together: count the information of at most twenty-five.
    const double counted = std::min(1.0, 25.0 / turn->agreed);
    tracked.belief.spread = key.belief.spread;
    tracked.belief.spread.topLeftCorner<4, 4>() +=
        inverse_of(turn->information * counted) * (feature_sigma_px * feature_sigma_px);
    return tracked;
}

double view_distance(const TurningCamera& a, const TurningCamera& b) {
    const double turn =
        std::acos(std::clamp(a.camera_from_world.row(2).dot(b.camera_from_world.row(2)), -1.0, 1.0));
    const double half_view = std::atan(a.image.width_px / (2.0 * std::max(a.focal_px, b.focal_px)));
    return std::max(turn / (2.0 * half_view), std::abs(std::log(a.focal_px / b.focal_px)));
}

} // namespace ropeline
