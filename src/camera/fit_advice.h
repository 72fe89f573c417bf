// What to tell the coach about a fit: where to click next, what is far from the clicks, what height does, and
// whether another rule book suits the clicks better.
#pragma once

#include "camera/rink_fit.h"
#include "rink/landmarks.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

struct NextLandmark {
    Landmark mark;
    ImagePoint expected; ///< where the fit puts it: the loupe goes there
    double sigma_now_m = 0.0,
           sigma_then_m = 0.0; ///< of a depth before the net, without the click on the goalie
};

/// The landmark in the picture whose click would shrink the depth sigma before the net most, those clicked
/// left out. Out     nothing when none is in sight or none would help by a tenth.
std::optional<NextLandmark> next_landmark(const RinkFit& fit, std::span<const IcePoint> clicked,
                                          const RuleBook& rules);

/// Does a pixel lie far outside the clicks (more than half their extent beyond their hull)? Its sigma says
/// how unsure it is.
bool extrapolated(std::span<const ImagePoint> clicks, ImagePoint at);

struct HeightBias {
    double camera_height_m = 0.0;
    double shift_m = 0.0; ///< how far a mark `height_m` above the ice is moved, away from the camera
};

/// What marking something above the ice instead of a skate does at this pixel: height times distance over
/// camera height. Out     nothing when the camera cannot be told from the fit.
std::optional<HeightBias> height_bias(const RinkFit& fit, ImagePoint at, double height_m = 0.1);

struct NamedClick {
    ImagePoint at;
    std::string name;
};

/// Another rule book under which the same named clicks agree clearly better, or nothing.
std::optional<RuleBookId> better_rule_book(std::span<const NamedClick> clicks, RuleBookId chosen,
                                           ImageSize image, const FitOptions& options = {});

} // namespace ropeline
