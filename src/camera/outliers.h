// Clicks that do not belong with the others: wrong landmark, slipped mouse, two labels swapped.
#pragma once

#include "camera/fit_solve.h"
#include "camera/rink_fit.h"

#include <optional>
#include <vector>

namespace ropeline {

struct LeftOut {
    std::size_t click = 0;  ///< counted through the points, then through the curves
    double off_px = 0.0;    ///< from where the others put it
    std::size_t others = 0; ///< how many clicks those are
};

struct AgreedFit {
    SolvedFit fit;                 ///< of the clicks that agree
    std::vector<LeftOut> left_out; ///< empty when all agree
};

/// Residuals that noise of this sigma explains: none gross, and not much more than it in the mean.
bool plausible(const SolvedFit& fit, double click_sigma_px);

/// Does the radial term lower the residuals by more than chance does? F test at 0.1 %.
bool radial_helps(const SolvedFit& plain, const SolvedFit& with_radial);

/// Fit of all clicks, or of all but the few that clearly do not belong when there are enough left to tell, by the
/// camera with square pixels that they show; by any camera where they show none such.
/// Throws  FitError (outlier, mirrored, not_invertible) when the clicks contradict each other and none may be
///         left out, or do not fix the camera.
AgreedFit fit_what_agrees(const RinkClicks& clicks, ImageSize image, const FitOptions& options);

/// The same of the clicks alone, whatever camera they show.
AgreedFit fit_of_any_plane(const RinkClicks& clicks, ImageSize image, const FitOptions& options);

} // namespace ropeline
