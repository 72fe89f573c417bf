// One moment seen by two cameras: each place by both, how sure each is, and how far they lie apart.
#pragma once

#include "desk/state/log_state.h"

#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

struct SeenTwice {
    std::string_view what; ///< "goalie", "puck"
    IcePoint first, second;
    std::optional<double> first_sigma_m,
        second_sigma_m; ///< root mean square of the distance to the true place
    double apart_m = 0.0;
    /// Nearer than two standard deviations of both together; nothing where a sigma is not known.
    std::optional<bool> agree;
};

/// Out     the goalie and the puck, each where both cameras have it on the ice.
std::vector<SeenTwice> seen_twice(const Moment& first, const Moment& second);

/// In a few words; empty where a sigma is not known.
std::string agreement_words(const SeenTwice& seen);

/// The moment in hand and its other view: the first camera's before the second's. Nulls when it has none.
struct BothViews {
    const Moment* first = nullptr;
    const Moment* second = nullptr;
};
BothViews both_views(const LogState& state);

} // namespace ropeline
