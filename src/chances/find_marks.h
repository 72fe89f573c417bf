// From what is seen and heard along a film to its marks. Pure.
#pragma once

#include "chances/hearing.h"
#include "chances/marks.h"

#include <optional>
#include <span>
#include <vector>

namespace ropeline {

constexpr double look_step_s = 0.2; ///< film time between two looks, as a rule
constexpr double gap_s = 0.7;       ///< after more than this a look is compared with none before

/// One look at the film's picture, and what became of it since the look before.
struct Looked {
    double at_s = 0.0;
    float likeness = 1.0F, likeness_of_four = 1.0F; ///< to the look before; to that of four looks before
    float shift_of_four_px = 0.0F; ///< the camera's move, in small pictures, summed over four looks
    float dx = 0.0F,
          dy = 0.0F;  ///< of it since the look before, in half widths and half heights of the picture
    float net = 0.0F; ///< score of the net that is seen; 0: none
    float net_x = 0.0F, net_y = 0.0F; ///< where it is, from the picture's middle (0) to its edges (-1, 1)
    float stir = 0.0F;  ///< change of luma about its crease, also while somebody hides it; 0: not known
    float still = 0.0F; ///< change of luma in the whole picture, the camera's move left in
};

/// In      looks by time; heard: from `heard_from_s` on, one each hearing_step_s; none: a silent film.
/// Out     all but until_s and whole.
FilmMarks marks_of(std::span<const Looked> looks, std::span<const Heard> heard, double heard_from_s);

/// Parts of it, each by itself.
std::vector<double> cuts_of(std::span<const Looked> looks);
/// Where the net lies at each look, seen or followed by the camera's moves from where it was seen some seconds before or
/// is again some seconds later: when it matters most, players hide it. Nothing where it is in the picture no more.
struct NetPlace {
    double x = 0.0, y = 0.0; ///< as Looked::net_x
};
std::vector<std::optional<NetPlace>> nets_along(std::span<const Looked> looks,
                                                std::span<const double> cuts_s);
std::vector<Stretch> nets_of(std::span<const Looked> looks, std::span<const double> cuts_s);
std::vector<Stretch> still_of(std::span<const Looked> looks);
std::vector<Stretch> whistles_of(std::span<const Heard> heard, double from_s);
std::vector<Stretch> loud_of(std::span<const Heard> heard, double from_s);

} // namespace ropeline
