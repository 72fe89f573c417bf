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

/// Mean standard deviation of a depth over places before the net, metres, without the click on the goalie.
double depth_sigma_before_net_m(const RinkFit& fit);

/// A landmark or a curve that could be clicked next.
struct NextClick {
    std::string name;
    bool on_curve = false;
    IcePoint place;            ///< of a curve: the place on it that would help most
    ImagePoint expected;       ///< where the fit puts it
    double sigma_then_m = 0.0; ///< depth_sigma_before_net_m() with that click
};

/// Landmarks and curves in the picture, the one whose click would shrink the depth sigma most first. Landmarks
/// that are clicked are left out, and of the curves what lies within a metre of a click.
std::vector<NextClick> next_clicks(const RinkFit& fit, std::span<const IcePoint> clicked,
                                   const RuleBook& rules);

/// Would such a click help by a tenth?
bool worth_a_click(double sigma_now_m, const NextClick& click);

/// Does a pixel lie far outside the clicks (more than half their extent beyond their hull)? Its sigma says
/// how unsure it is.
bool extrapolated(std::span<const ImagePoint> clicks, ImagePoint at);

struct HeightBias {
    double camera_height_m = 0.0;
    double shift_m = 0.0; ///< how far a mark `height_m` above the ice is moved, away from the camera
};

/// What marking something above the ice instead of a skate does at this pixel: height times distance over
/// camera height.
/// Out     nothing when the camera cannot be told from the fit.
std::optional<HeightBias> height_bias(const RinkFit& fit, ImagePoint at, double height_m = 0.1);

struct NamedClick {
    ImagePoint at;
    std::string name;
};

/// Another rule book under which the same named clicks agree clearly better, or nothing.
std::optional<RuleBookId> better_rule_book(std::span<const NamedClick> clicks, RuleBookId chosen,
                                           ImageSize image, const FitOptions& options = {});

} // namespace ropeline
