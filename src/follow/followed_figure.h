// Somebody on the ice, or the puck, followed from picture to picture with the camera's own motion taken out: pure, it
// sees no film.
#pragma once

#include "camera/image_point.h"
#include "camera/picture_view.h"
#include "camera/rink_fit.h"

#include <memory>
#include <optional>

namespace ropeline {

enum class FigureKind { goalie, skater, puck };

struct FollowedFigure {
    IcePoint moved; ///< on the ice since the first picture, metres
    double likeness =
        0.0; ///< of what is there now with what was there first: 1 the same, 0 nothing in common
    double returned_m = 0.0; ///< how far followed back from there it comes to lie from where it began
};

/// Like enough, and found again from the other side: what the tests hold to 0.15 m. A goalie gone down or hidden is not.
bool is_sure(const FollowedFigure& followed);

class FigureFollower {
public:
    /// In      the rink in the first picture; the figure's place there, where it touches the ice.
    /// Throws  FitError when no camera sees the rink so.
    FigureFollower(const RinkFit& first, ImagePoint place, FigureKind kind);
    ~FigureFollower();
    FigureFollower(FigureFollower&&) noexcept;
    FigureFollower& operator=(FigureFollower&&) noexcept;

    /// The pictures on the way, the first one first; some fifteen a second are enough.
    void see(const PictureView& picture, const RinkFit& rink);
    /// Where it is in the last one; nothing when it left what was looked at, stood right before the camera, or fewer than two
    /// were seen.
    std::optional<FollowedFigure> followed() const;

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

} // namespace ropeline
