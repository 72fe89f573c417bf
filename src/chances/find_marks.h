// From what is seen and heard along a film to its marks. Pure.
#pragma once

#include "chances/hearing.h"
#include "chances/marks.h"

#include <span>

namespace ropeline {

constexpr double look_step_s = 0.2; ///< film time between two looks, as a rule

/// One look at the film's picture, and what became of it since the look before.
struct Looked {
    double at_s = 0.0;
    float likeness = 1.0F, likeness_of_four = 1.0F; ///< to the look before; to that of four looks before
    float shift_px = 0.0F, shift_of_four_px = 0.0F; ///< the camera's move, in small pictures; summed over four looks
    float net = 0.0F;   ///< score of the net that is seen
    float aside = 1.0F; ///< how far it lies from the picture's middle: 1 at the edge
    float stir = 0.0F;  ///< change of luma about the crease, where the net was there the look before as well
    float still = 0.0F; ///< change of luma in the whole picture, the camera's move left in
};

/// In      looks by time; heard: from `heard_from_s` on, one each hearing_step_s; none: a silent film.
/// Out     all but until_s and whole.
FilmMarks marks_of(std::span<const Looked> looks, std::span<const Heard> heard, double heard_from_s);

/// Parts of it, each by itself.
std::vector<double> cuts_of(std::span<const Looked> looks);
std::vector<Stretch> nets_of(std::span<const Looked> looks, std::span<const double> cuts_s);
std::vector<Stretch> still_of(std::span<const Looked> looks);
std::vector<Stretch> whistles_of(std::span<const Heard> heard, double from_s);
std::vector<Stretch> loud_of(std::span<const Heard> heard, double from_s);

} // namespace ropeline
