// Paint and boards lie where they were put, not where the rule book has them: a click on them is off by that as well.
#pragma once

#include "camera/fit_solve.h"

namespace ropeline {

/// How far a place lies off, one sigma, where paint lies `paint_off_m` off.
/// Source  measured: the goal line of one broadcast rink ends 16 cm further out than in the book, its paint 3 to 7 cm off.
double off_the_book_m(bool at_boards, double paint_off_m);
bool at_boards(const IceCurve& curve);

/// Covariance of a click on a landmark, square pixels.
/// In      how its pixel moves with its place, pixels per metre.
Eigen::Matrix2d click_spread(const Eigen::Matrix2d& pixel_by_ice, double off_m, double click_sigma_px);

/// Variance of a click on a curve across it, square pixels; `along` is a unit vector on the ice.
double click_spread_across(const Eigen::Matrix2d& pixel_by_ice, const Eigen::Vector2d& along, double off_m,
                           double click_sigma_px);

/// The terms with the weights that make each residual as sure as the hand alone would, as seen by a fit of them.
FitTerms weighed_for_paint(FitTerms terms, const SolvedFit& fit, ImageSize image, double paint_off_m,
                           double click_sigma_px);

} // namespace ropeline
