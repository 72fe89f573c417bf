// A whole fit of one picture from its paint alone: nothing known but the rule book and where cameras of films stand.
#pragma once

#include "camera/picture_view.h"
#include "camera/rink_fit.h"
#include "rink/rule_book.h"

#include <optional>
#include <stop_token>

namespace ropeline {

struct ProposedFit {
    /// With covariance. Of the end in view: both ends are painted alike, which of them it is nobody can tell.
    RinkFit fit;
    double share = 0.0;        ///< of the stretches of paint in sight that lie on lines of the picture
    double sigmas = 0.0;       ///< of evidence: by which that is more than chance gives
    double rival_sigmas = 0.0; ///< of evidence for the best fit that is another one
    double sigma_m = 0.0;      ///< of a place that matters in sight
};

/// Takes seconds.
/// Out     nothing where it is not clear, or when asked to stop.
std::optional<ProposedFit> propose_fit(const PictureView& picture, const RuleBook& rules,
                                       const std::stop_token& stop = {});

/// The same without asking whether it is clear: the fit that most paint speaks for.
std::optional<ProposedFit> likeliest_fit(const PictureView& picture, const RuleBook& rules,
                                         const std::stop_token& stop = {});
bool is_clear(const ProposedFit& found);

} // namespace ropeline
