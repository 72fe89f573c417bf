// Refining a rough fit against the paint in the frame.
#pragma once

#include "camera/picture_view.h"
#include "camera/rink_fit.h"

#include <optional>
#include <string>

namespace ropeline {

struct Snap {
    RinkFit fit;
    double before_px = 0.0,
           after_px = 0.0; ///< root mean square distance of the painted lines from where the fit has them
    int lines_found = 0;   ///< short stretches of line that agree
};

/// The fit moved onto the painted lines, within what its own error allows.
/// Out     nothing when there is too little paint in sight or the fit would walk away; `why_not` says so in
///         one line.
std::optional<Snap> snap_to_paint(const RinkFit& fit, const RuleBook& rules, const PictureView& picture,
                                  std::string& why_not);

} // namespace ropeline
