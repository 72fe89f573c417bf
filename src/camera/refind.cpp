#include "camera/refind.h"

#include <Eigen/Geometry>
#include <opencv2/imgproc.hpp>

namespace ropeline {
namespace {

constexpr int small_width_px = 80;

cv::Mat shrunk(const cv::Mat& grey, double scale) {
    cv::Mat small;
    cv::resize(grey, small, {}, scale, scale, cv::INTER_AREA);
    return small;
}

} // namespace

Likely likely_camera(const KeyView& key, const cv::Mat& grey) {
    const double scale = static_cast<double>(small_width_px) / grey.cols;
    const cv::Mat now = shrunk(grey, scale);
    const cv::Mat middle = now(cv::Rect(now.cols / 4, now.rows / 4, now.cols / 2, now.rows / 2));
    double best = 0.0, zoom = 1.0;
    cv::Point2d at(key.grey.cols / 2.0, key.grey.rows / 2.0);
    for (const double tried : {0.75, 0.87, 1.0, 1.15, 1.33}) {
        cv::Mat then = shrunk(key.grey, scale * tried);
        // The middle of the frame may show the very edge of the key view.
        const int across = middle.cols / 2, down = middle.rows / 2;
        cv::copyMakeBorder(then, then, down, down, across, across, cv::BORDER_REPLICATE);
        cv::Mat likeness;
        cv::matchTemplate(then, middle, likeness, cv::TM_CCOEFF_NORMED);
        double most = 0.0;
        cv::Point place;
        cv::minMaxLoc(likeness, nullptr, &most, nullptr, &place);
        if (most <= best) continue;
        best = most;
        zoom = tried;
        at = cv::Point2d(place) / (scale * tried);
    }
    const TurningCamera& then = key.belief.camera;
    const Lens lens = lens_of(then.image);
    const Eigen::Vector2d off = straightened(lens, then.radial, {at.x, at.y}) - lens.middle_px;
    const Eigen::Vector3d ahead =
        (then.camera_from_world.transpose() * Eigen::Vector3d{off.x(), off.y(), then.focal_px}).normalized();
    const Eigen::Matrix3d roll =
        then.camera_from_world * level_axes(then.camera_from_world.row(2).transpose()).transpose();
    TurningCamera likely = then;
    likely.camera_from_world = roll * level_axes(ahead);
    likely.focal_px *= zoom;
    return {moved(likely, CameraStep::Zero()), best}; // a rotation again, to the last digit
}

} // namespace ropeline
