// The camera of any frame of a film whose camera stands at a known place: found from nothing, no frame before it.
#pragma once

#include "camera/key_views.h"
#include "camera/net_frame.h"
#include "camera/paint_evidence.h"
#include "camera/paint_update.h"
#include "camera/picture_view.h"

#include <optional>
#include <span>
#include <vector>

namespace ropeline {

/// How far a camera may zoom from where it was fitted.
struct ZoomReach {
    double out = 0.4, in = 4.0;
};

/// What a picture says of a film's camera.
struct Located {
    PaintUpdate paint;
    PaintEvidence evidence;    ///< of paint and net
    double rival_sigmas = 0.0; ///< of evidence for the next best view that is another one
    double place_off =
        0.0;         ///< how far from its believed place the paint draws the camera, in sigmas of such draws
    NetStands net{}; ///< a camera that stands beside this one sees the same paint, but not the same net
    double sigma_m = 0.0; ///< of a place on the ice that matters in sight
};

/// Where the camera looks and how far it is zoomed.
/// In      `known`: place, lens and roll of the film's camera with what is believed of them; its turn and zoom
///         do not matter but that the zoom is reached from it. `views` of this camera: where one shows what is
///         found, it has to agree.
/// Out     nothing where it is not clear: another camera, a crowd, too little paint, two answers alike.
std::optional<Located> locate(const CameraBelief& known, const PictureView& picture, const RuleBook& rules,
                              std::span<const KeyView> views = {}, const ZoomReach& reach = {});

/// The same without asking whether it is clear: the view that most paint speaks for, and how much.
std::optional<Located> likeliest(const CameraBelief& known, const PictureView& picture, const RuleBook& rules,
                                 const ZoomReach& reach = {});
bool is_clear(const Located& found);

} // namespace ropeline
