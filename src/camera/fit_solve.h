// The least-squares core of a rink fit: no checks, no messages, only numbers.
#pragma once

#include "camera/image_point.h"
#include "rink/curves.h"

#include <Eigen/Core>

#include <optional>
#include <vector>

namespace ropeline {

/// Residuals count as `weight` times what they are: 1 of a click whose sigma is the hand's alone; see `weighed_for_paint`.
struct PointTerm {
    Eigen::Vector2d pixel;
    Eigen::Vector2d ice;
    bool at_boards = false;
    Eigen::Matrix2d weight = Eigen::Matrix2d::Identity();
};

/// A pixel somewhere on a painted curve; it counts by its distance across the curve, in pixels.
struct CurveTerm {
    Eigen::Vector2d pixel;
    const IceCurve* curve = nullptr;
    double weight = 1.0;
};

struct FitTerms {
    std::vector<PointTerm> points;
    std::vector<CurveTerm> curves;

    int equations() const { return static_cast<int>(2 * points.size() + curves.size()); }
};

/// Numbers of a solved fit. Covariances are for a click sigma of one pixel and leave out the scale of the
/// matrix.
struct SolvedFit {
    Eigen::Matrix3d image_from_ice; ///< third coordinate positive in front of the camera; last number 1 or -1
    double radial = 0.0;
    std::vector<Eigen::Vector2d> point_residuals; ///< pixel minus projection
    std::vector<Eigen::Vector2d>
        curve_residuals;        ///< pixel minus the nearest pixel of the curve, to first order
    double squared_error = 0.0; ///< sum over all equations as they count, pixels squared
    int freedom = 0;            ///< equations less parameters
    Eigen::Matrix<double, 10, 10> unit_covariance; ///< of the nine numbers row by row, then `radial`
    std::optional<Eigen::Matrix3d> rival;          ///< another camera that explains the terms nearly as well
};

/// Starts to try, likeliest first: linear from points, linear from points and straight curves, and cameras on a grid
/// around the rink; the first alone where six points or more fix the matrix. Each shows all points in front of the
/// camera.
std::vector<Eigen::Matrix3d> fit_starts(const FitTerms& terms, ImageSize image, std::size_t cameras = 8);

/// What the points alone give by linear means, at a hundredth of the cost of the best fit; its residuals are seldom
/// twice as large. Nothing where they do not fix a matrix that sees them all.
std::optional<Eigen::Matrix3d> linear_fit(const FitTerms& terms);

/// What is known of film cameras before a click: residuals in pixels for one unit off.
struct CameraPrior {
    double square_px = 0.0; ///< of `squareness`; 0: any matrix will do
    double lens_px = 0.0;   ///< of `radial`; 0: any lens will do
};

/// Levenberg-Marquardt on pixel residuals from the best of `fit_starts`, or from another fit's camera alone.
/// Source  points: Hartley & Zisserman, Multiple View Geometry, 2nd ed., chapter 4; curves: Sampson's
///         first-order distance (same, section 4.2.6).
/// Out     nothing when the terms do not fix a camera that sees all of them.
std::optional<SolvedFit> solve_fit(const FitTerms& terms, ImageSize image, bool with_radial,
                                   const CameraPrior& prior = {}, const SolvedFit* start_at = nullptr);

} // namespace ropeline
