// The mapping between a frame and the ice, fitted from clicked landmarks.
#pragma once

#include "camera/image_point.h"
#include "rink/curves.h"
#include "rink/ice_point.h"
#include "rink/rule_book.h"

#include <array>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

namespace ropeline {

/// Row-major 3x3.
using Matrix3 = std::array<double, 9>;

/// One click on a painted point of known place.
struct LandmarkClick {
    ImagePoint at;
    IcePoint point;
    std::string label; ///< for messages: "left post, inside"; may be empty
    bool at_boards = false;
};

/// One click somewhere on a painted curve: it fixes the fit across the curve only.
struct CurveClick {
    ImagePoint at;
    IceCurve curve;
};

struct RinkClicks {
    std::vector<LandmarkClick> points;
    std::vector<CurveClick> curves;
};

/// Whether one radial term is fitted with the homography.
enum class LensChoice {
    none,
    radial,    ///< always; throws when the clicks cannot carry it
    automatic, ///< only where it lowers the residuals by more than chance does (F test, 0.1 %)
};

enum class FitFault { too_few, collinear, repeated, mirrored, outlier, not_invertible, bad_number };

struct FitError : std::runtime_error {
    FitError(FitFault f, const std::string& what) : std::runtime_error(what), fault(f) {}
    FitFault fault;
};

/// How far paint lies off the rule book, per axis, one sigma.
/// Source  measured: the paint of one broadcast rink lies 3 to 7 cm off.
inline constexpr double usual_paint_off_m = 0.03;

struct FitOptions {
    double click_sigma_px = 1.0; ///< of a click, per axis; holds where the residuals are too few to tell
    LensChoice lens = LensChoice::none;
    double paint_off_m = usual_paint_off_m; ///< of paint from the rule book; boards three times as far
};

struct RinkFit {
    /// Of the straightened picture (see `radial`). Its scale: the third coordinate is positive in front of
    /// the camera, and the last number is 1, or -1 where the middle of the net lies behind the camera.
    Matrix3 image_from_ice{};
    Matrix3 ice_from_image{}; ///< the inverse, not rescaled
    /// One-term division model, 0 for a plain homography: straightened = middle + (pixel - middle) / (1 +
    /// radial r^2), r from the middle of the picture in half diagonals. Barrel lenses are negative. Source:
    /// Fitzgibbon, Simultaneous linear estimation of multiple view geometry and lens distortion, CVPR 2001.
    double radial = 0.0;
    ImageSize image;
    double rms_px = 0.0;                     ///< root mean square click residual per axis
    std::vector<ImagePoint> residuals;       ///< click minus where the fit puts the landmark, in click order
    std::vector<ImagePoint> curve_residuals; ///< click minus the nearest place of its curve, in click order
    std::vector<std::string> warnings;
    /// Covariance of the nine numbers of image_from_ice (row-major 9x9, rank 8, pixels and metres).
    std::array<double, 81> covariance{};
    /// Covariance of `radial` with the nine numbers, then its own variance; zeros for a plain homography.
    std::array<double, 10> radial_covariance{};
    double click_sigma_px = 1.0; ///< the click sigma that the covariance rests on
};

/// Homography, with one radial term if chosen, of the least squared click residuals in the image.
/// In      four points or more, no three of a minimal set on one line; or fewer, with as many clicks on
///         curves as make eight numbers (two a point, one a curve). Image in pixels, ice in metres.
/// Out     fit with residuals, covariance and warnings; clicks that clearly do not belong are named and left
///         out.
/// Throws  FitError: one line, what is wrong and what to do.
/// Source  Hartley & Zisserman, Multiple View Geometry, 2nd ed., Algorithm 4.2 (normalised DLT), then least
///         squares; curves by Sampson's first-order distance (same, 4.2.6).
RinkFit fit_rink(const RinkClicks& clicks, ImageSize image, const FitOptions& options = {});
/// The same for clicks on points only.
RinkFit fit_rink(std::span<const LandmarkClick> clicks, ImageSize image, const FitOptions& options = {});

/// Where the pixel lies on the ice; nothing at or beyond the horizon.
std::optional<IcePoint> ice_at(const RinkFit& fit, ImagePoint at);

/// Where the ice point appears; nothing for points behind the camera.
std::optional<ImagePoint> image_at(const RinkFit& fit, IcePoint at);

/// A click minus the place of its curve it belongs to, in pixels: along the shortest way across the curve,
/// taken again from each place found. Nothing where the click lies at or above the horizon.
std::optional<ImagePoint> curve_residual(const RinkFit& fit, const CurveClick& click);

/// Fills the residuals of a fit that was made or moved without them: zero where a click's place is not in front of the
/// camera.
void tell_residuals(const RinkClicks& clicks, RinkFit& fit);

/// 2x2 covariance of an ice position, metres squared: (xx, xy, yy).
struct IceCovariance {
    double xx = 0.0, xy = 0.0, yy = 0.0;
};

/// Joint covariance of several ice positions mapped by one fit (row-major 2n x 2n, metres squared): what the
/// fit's own uncertainty makes them share plus each click's own sigma.
std::vector<double> joint_ice_covariance(const RinkFit& fit, std::span<const ImagePoint> at,
                                         double click_sigma_px);
IceCovariance ice_covariance(const RinkFit& fit, ImagePoint at, double click_sigma_px);

} // namespace ropeline
