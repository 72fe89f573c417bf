// What carrying from frame to frame makes of a film, as it is usually done: features tracked, a homography of most.
#pragma once

#include "camera/rink_fit.h"

#include <opencv2/core.hpp>

#include <optional>
#include <vector>

namespace ropeline {

/// Hears consecutive frames; answers for any start afterwards.
class HomographyChain {
public:
    /// In      `radial` of the lens, 0 for none; `mask` is 0 where no feature is to be taken, empty for none.
    HomographyChain(ImageSize image, double radial, cv::Mat1b mask);
    void add(const cv::Mat1b& grey);
    /// A fit of frame `from` as it stands at frame `to`, both counted from the first that was added.
    /// Out     nothing where a step between them had too few features.
    std::optional<RinkFit> carried(const RinkFit& fit, int from, int to) const;

private:
    ImageSize image_;
    double radial_;
    cv::Mat1b mask_, before_;
    std::vector<std::optional<cv::Matx33d>> steps_; ///< from each frame to the next, straightened pixels
};

} // namespace ropeline
