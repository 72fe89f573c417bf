// Clicks that do not belong with the others: wrong landmark, slipped mouse, two labels swapped.
#pragma once

#include "camera/fit_solve.h"
#include "camera/rink_fit.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

/// A residual beyond this many click sigmas is not noise: the click is on the wrong landmark or slipped.
constexpr double gross_sigmas = 8.0;

struct LeftOut {
    std::size_t click = 0;
    double off_px = 0.0;    ///< from where the others put it
    std::size_t others = 0; ///< how many clicks those are
};

struct AgreedFit {
    SolvedFit fit;                 ///< of the clicks that agree, in click order
    std::vector<LeftOut> left_out; ///< empty when all agree
};

/// Fit of all clicks, or of all but the few that clearly do not belong when there are enough left to tell.
/// Throws  FitError (outlier, mirrored, not_invertible) when the clicks contradict each other and none may be
/// left out.
AgreedFit fit_what_agrees(std::span<const LandmarkClick> clicks, ImageSize image, double click_sigma_px);

} // namespace ropeline
