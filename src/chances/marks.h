// What lies where along a film: cuts, stretches with a net in view, whistles, and from these the likely chances.
// Times are film seconds, as FrameTable::seconds_of. Plain data.
#pragma once

#include <vector>

namespace ropeline {

struct Stretch {
    double first_s = 0.0, last_s = 0.0;
    bool has(double at_s) const { return first_s <= at_s && at_s <= last_s; }
};

struct LikelyChance {
    double at_s = 0.0;
    double score = 0.0; ///< 0 to 1: how much speaks for it, no probability
};

struct FilmMarks {
    double until_s = 0.0;       ///< looked through up to here
    bool whole = false;         ///< to the film's end
    std::vector<double> cuts_s; ///< the picture is another one from here: cut, dissolve, another camera
    std::vector<Stretch> net_in_view;
    std::vector<Stretch> whistles;
    std::vector<Stretch> loud;  ///< against what was heard before and after
    std::vector<Stretch> still; ///< neither the camera nor anybody on the ice moves much
    std::vector<LikelyChance> chances;
};

} // namespace ropeline
