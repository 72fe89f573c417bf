// Shots filmed in memory by the demo's renderer, with known truth: a camera in the stands, players over the
// lines, noise.
#pragma once

#include "camera/picture_view.h"
#include "camera/rink_fit.h"
#include "demo/arena.h"
#include "demo/backdrop.h"
#include "demo/canvas.h"
#include "demo/pinhole.h"
#include "demo/play.h"

#include <functional>
#include <random>
#include <vector>

namespace ropeline {

/// Where a camera looks and how far it is zoomed at a time.
struct Aim {
    IcePoint at;
    double focal_px = 1200.0;
};

class FilmedShot {
public:
    FilmedShot(demo::Vec3 place, std::function<Aim(double)> aim_at_s, int frames, int first_of_play = 0);

    int count() const { return static_cast<int>(cameras_.size()); }
    const demo::PinholeCamera& camera(int frame) const { return cameras_[static_cast<std::size_t>(frame)]; }
    const demo::Instant& instant(int frame) const;
    /// Rendered anew each time; the same bytes for the same frame.
    demo::Canvas picture(int frame) const;

private:
    std::vector<demo::PinholeCamera> cameras_;
    demo::Panorama panorama_;
    int first_of_play_;
};

PictureView view_of(const demo::Canvas& canvas);

/// A fit clicked on landmarks in sight with this much noise.
RinkFit clicked_fit(const demo::PinholeCamera& camera, double noise_px, unsigned seed = 1);

/// How far the goalie's depth is off when read through `fit`; negative when the goalie is out of sight.
double depth_error_m(const RinkFit& fit, const demo::PinholeCamera& camera, const demo::Instant& instant);

} // namespace ropeline
