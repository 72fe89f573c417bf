// Shots filmed in memory by the demo's renderer, with known truth: a camera in the stands, players over the
// lines, noise.
#pragma once

#include "camera/picture_view.h"
#include "camera/rink_fit.h"
#include "demo/arena.h"
#include "demo/backdrop.h"
#include "demo/canvas.h"
#include "demo/filming_look.h"
#include "demo/pinhole.h"
#include "demo/play.h"

#include <functional>
#include <optional>
#include <vector>

namespace ropeline {

/// Where a camera looks and how far it is zoomed at a time.
struct Aim {
    IcePoint at;
    double focal_px = 1200.0;
};

struct Filming {
    ImageSize size{1280, 720};
    bool keeps_size = false; ///< else 1280 x 720 are made at half of it while not all is tested
    int exposures =
        1; ///< one frame is the mean of these, spread over as much of its time as the shutter is open
    double shutter = 0.5;
    bool interlaced = false; ///< top field first: even rows a quarter of a frame early, odd rows as much late
    double readout_s = 0.0;  ///< from when the first row is exposed until the last is: a rolling shutter
    double jitter = 0.0;     ///< how far frames lie from an even pace, in frames: a variable rate
    std::function<demo::Vec3(double)> walk =
        nullptr;             ///< where the camera goes from its place; empty for a tripod
    double radial = 0.0;     ///< of its lens
    bool television = false; ///< paint and ice as a television camera sees them, art on the ice
    bool as_painted = false; ///< the rink as its painters laid it out rather than by the book
    int grain = 3;           ///< most levels of noise a pixel, either way
    demo::FilmingLook look{};
};

/// When a frame is shown.
double seconds_of(const Filming& filming, int frame);

class FilmedShot {
public:
    FilmedShot(demo::Vec3 place, const std::function<Aim(double)>& aim_at_s, int frames,
               int first_of_play = 0, const Filming& filming = {});

    int count() const { return static_cast<int>(cameras_.size()); }
    const demo::PinholeCamera& camera(int frame) const { return cameras_[static_cast<std::size_t>(frame)]; }
    /// The camera as it was when the row that shows a place on the ice was exposed.
    const demo::PinholeCamera& camera_showing(int frame, IcePoint at) const;
    const demo::Instant& instant(int frame) const;
    /// Rendered anew each time; the same bytes for the same frame.
    demo::Canvas picture(int frame) const;

private:
    demo::Canvas exposure(const demo::PinholeCamera& camera, const demo::Instant& now) const;
    demo::Canvas mean_of_exposures(int frame) const;
    demo::Canvas row_by_row(int frame) const;
    bool in_parts() const { return filming_.interlaced || filming_.readout_s > 0.0; }

    std::vector<demo::PinholeCamera> cameras_;
    std::vector<demo::PinholeCamera> exposed_; ///< so many a frame, all over one another or each its own rows
    int exposed_a_frame_ = 1;
    mutable std::optional<demo::Panorama>
        panorama_; ///< of a camera that keeps its place; made for the first picture
    int first_of_play_;
    Filming filming_;
};

PictureView view_of(const demo::Canvas& canvas);

/// Up to eight landmarks in sight, clicked with this much noise.
/// Throws  std::logic_error when fewer than five are in sight.
std::vector<LandmarkClick> clicks_in_sight(const demo::PinholeCamera& camera, double noise_px,
                                           unsigned seed = 1);
/// A fit of these clicks.
RinkFit clicked_fit(const demo::PinholeCamera& camera, double noise_px, unsigned seed = 1);

/// How far the goalie's depth is off when read through `fit`; negative when the goalie is out of sight.
double depth_error_m(const RinkFit& fit, const demo::PinholeCamera& camera, const demo::Instant& instant);

} // namespace ropeline
