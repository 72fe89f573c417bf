// A colour picture in grey.
#pragma once

#include "camera/picture_view.h"

#include <opencv2/imgproc.hpp>

namespace ropeline {

inline cv::Mat grey_of(const PictureView& picture) {
    // Read only: OpenCV has no view of bytes that may not be written.
    const cv::Mat rgb(picture.height_px, picture.width_px, CV_8UC3, const_cast<std::uint8_t*>(picture.rgb),
                      static_cast<std::size_t>(picture.stride_bytes));
    cv::Mat grey;
    cv::cvtColor(rgb, grey, cv::COLOR_RGB2GRAY);
    return grey;
}

} // namespace ropeline
