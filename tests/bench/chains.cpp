#include "chains.h"

#include "camera/homography.h"
#include "camera/projection.h"

#include <Eigen/LU>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

#include <utility>

namespace ropeline {
namespace {

cv::Point2f straight(ImageSize image, double radial, cv::Point2f at) {
    // OpenCV counts from pixel centres, we from the corner of the first pixel.
    const Eigen::Vector2d pixel =
        straightened(lens_of(image), radial, Eigen::Vector2d{at.x + 0.5, at.y + 0.5});
    return {static_cast<float>(pixel.x()), static_cast<float>(pixel.y())};
}

} // namespace

HomographyChain::HomographyChain(ImageSize image, double radial, cv::Mat1b mask)
    : image_(image), radial_(radial), mask_(std::move(mask)) {}

void HomographyChain::add(const cv::Mat1b& grey) {
    const cv::Mat1b before = std::exchange(before_, grey.clone());
    if (before.empty()) return;
    steps_.emplace_back();
    std::vector<cv::Point2f> from, to;
    cv::goodFeaturesToTrack(before, from, 400, 0.01, 8.0, mask_);
    if (from.size() < 8) return;
    std::vector<unsigned char> found;
    std::vector<float> errors;
    cv::calcOpticalFlowPyrLK(before, grey, from, to, found, errors, {21, 21}, 4);
    std::vector<cv::Point2f> straight_from, straight_to;
    for (std::size_t i = 0; i < from.size(); ++i) {
        if (!found[i]) continue;
        straight_from.push_back(straight(image_, radial_, from[i]));
        straight_to.push_back(straight(image_, radial_, to[i]));
    }
    if (straight_from.size() < 8) return;
    const cv::Mat step =
        cv::findHomography(straight_from, straight_to, cv::RANSAC, 2.0, cv::noArray(), 2000, 0.999);
    if (!step.empty()) steps_.back() = cv::Matx33d(step);
}

std::optional<RinkFit> HomographyChain::carried(const RinkFit& fit, int from, int to) const {
    cv::Matx33d all(fit.image_from_ice.data());
    for (int at = from; at < to; ++at) {
        const auto& step = steps_.at(static_cast<std::size_t>(at));
        if (!step) return std::nullopt;
        all = *step * all;
        all = all * (1.0 / cv::norm(all));
    }
    RinkFit there = fit;
    there.radial = radial_;
    std::copy_n(all.val, 9, there.image_from_ice.begin());
    there.ice_from_image = from_eigen(to_eigen(there.image_from_ice).inverse());
    return there;
}

} // namespace ropeline
