// What the film benchmark measures, each in a process of its own: clean memory, and its peak is its own.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "bench/rivals.h"

namespace bench {

struct Child {
    std::vector<double> numbers; ///< one NaN where the work failed
    double peak_mib = 0.0;
};

Child in_child(const std::function<std::vector<double>()>& work);

using Open = std::function<std::unique_ptr<Rival>()>;

/// Of one frame. On a machine with other work the processor's time, that of all threads, tells more.
struct Cost {
    double wall_ms = 0.0, processor_ms = 0.0;
};

Cost forward_cost(const Open& open, std::int64_t count);

struct Backward {
    double rate_hz = 0.0, peak_mib = 0.0;
};
Backward backward_rate(const Open& open, std::int64_t from, std::int64_t count);

struct BothWays {
    Cost forward, backward;
    double decodes_a_frame = 0.0; ///< backward
};
/// Ten stretches each way, in turns, so that slow spells of the machine fall on both. Opening, and `before` frames
/// backward in which the system hands out the cache's memory, are not in it.
BothWays both_ways(const Open& open, std::int64_t from, std::int64_t before, std::int64_t stretch);

Cost random_access_cost(const Open& open, const std::vector<std::int64_t>& targets);

/// Milliseconds from a wish to the frame in hand, for steps back at the pace of a held key; sorted.
std::vector<double> desk_steps_back(const std::string& path, std::int64_t from, int steps);

struct Calls {
    double longest_ms = 0.0, nearly_all_ms = 0.0, peak_mib = 0.0; ///< nearly all: 99.9 %
};
/// Calls into the desk's film from a window loop that plays both ways and jumps.
Calls desk_calls(const std::string& path);

double first_frame_ms(const std::string& path);
double index_ms(const std::string& path);

} // namespace bench
