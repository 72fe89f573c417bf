// The camera of a film: its place and its lens stay put, so clicks on one frame help on every other.
#pragma once

#include "camera/rink_fit.h"

#include <array>
#include <optional>
#include <span>
#include <vector>

namespace ropeline {

struct FilmCamera {
    std::array<double, 4> place_and_lens{}; ///< place in metres (height above the ice is third), radial term
    std::array<double, 16> spread{};        ///< their joint covariance
    std::vector<RinkFit> views;             ///< the fits that it is known from
};

/// A frame of the film whose rink was fitted, and by which clicks.
struct ClickedView {
    RinkClicks clicks;
    RinkFit fit;
};

/// What the clicks on a film's frames say of its cameras, those of most frames first. A frame whose clicks a camera sees
/// from where the others have it is that camera's; one that no turning camera sees is left out.
/// Source  each frame's clicks by least squares with what the frames before it say as a further observation; lenses of
///         film cameras: measured on one broadcast.
std::vector<FilmCamera> film_cameras(std::span<const ClickedView> views);

/// The fit of clicks on a frame of that camera: where it is turned to and how far zoomed is free, its place and lens
/// only as far as they are not known. Square pixels, axis in the middle.
/// In      clicks that fix six numbers or more, two a point and one a curve, one point at least.
/// Out     nothing where the camera does not see them so: beyond what a click's sigma, or the paint's own three
///         centimetres off the rule book, would have in one of a thousand; or where two views see them equally well.
/// Source  least squares with the known as a further observation: Hartley & Zisserman, Multiple View Geometry, 2nd ed.,
///         A6.2 (Levenberg-Marquardt); gate of the chi-squared distribution by Wilson and Hilferty 1931.
std::optional<RinkFit> fit_of_film_camera(const RinkClicks& clicks, ImageSize image, const FilmCamera& camera,
                                          double click_sigma_px = 1.0);

} // namespace ropeline
