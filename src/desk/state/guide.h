// The first ten minutes: five steps, each done by doing it.
#pragma once

#include "desk/state/log_state.h"

#include <array>
#include <set>
#include <string_view>

namespace ropeline {

/// Where the guide began, and what has been done since that the log does not show.
struct Guide {
    std::int64_t frame = -1; ///< on screen when it was last looked at
    int stepped = 0;         ///< single frames since
    std::set<Id> shots;      ///< that were there before
    std::size_t answers = 0; ///< that were there before
};
Guide begin_guide(const LogState& log, std::size_t answers);
/// The film stands at this frame now.
Guide stepped_to(Guide guide, std::int64_t frame);

struct GuideStep {
    std::string_view title;
    std::string_view how; ///< with command names in brackets, for with_keys()
    bool done = false;
};
constexpr std::size_t guide_length = 5;
std::array<GuideStep, guide_length> guide_steps(const Guide& guide, const LogState& log, std::size_t answers);

} // namespace ropeline
