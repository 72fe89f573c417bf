// One shift of a made game: from the face-off to the whistle.
#pragma once

#include "demo/play.h"

#include <vector>

namespace ropeline {

struct MadeShift {
    demo::Play play;
    std::vector<double> chances_s; ///< releases
    double faced_off_s = 0.0;      ///< they stand until then
    double whistle_s = 0.0;
    bool goal = false; ///< at its end
};

/// `chances`: shots at the net in it; as many visits to the zone besides end without one.
MadeShift make_shift(unsigned seed, int chances);

} // namespace ropeline
