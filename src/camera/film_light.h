// What the light of a film does from frame to frame: cuts, flashes, and a flash that goes out.
#pragma once

#include "camera/key_views.h"

#include <opencv2/core.hpp>

namespace ropeline {

class FilmLight {
public:
    /// The frame that was fitted.
    void start(const cv::Mat& grey);

    struct Arrived {
        cv::Mat grey;             ///< a frame that a flash lit as it would be without
        bool cut = false;         ///< another shot begins with it
        bool dimmed = false;      ///< the first frame was lit, and now it is dark again
        Brightness before, after; ///< of the views that were taken of it, where it is dimmed
    };
    Arrived arrive(cv::Mat grey);

private:
    Brightness brightness_; ///< of the frame before, but for flashes
    cv::Mat small_;         ///< of the frame before
    int lit_ = 0;           ///< frames brighter than what came before them
    int since_start_ = 0;
};

} // namespace ropeline
