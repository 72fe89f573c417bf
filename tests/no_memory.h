// Memory that has run out on every thread but the one that says so.
#pragma once

#include <limits>

namespace ropeline::sample {

/// As long as it lives, `new` throws std::bad_alloc on all other threads.
class NoMemoryElsewhere {
public:
    /// In      after: how many allocations of other threads still succeed; times: how many then fail.
    explicit NoMemoryElsewhere(long after = 0, long times = std::numeric_limits<long>::max());
    ~NoMemoryElsewhere();
    NoMemoryElsewhere(const NoMemoryElsewhere&) = delete;
    NoMemoryElsewhere& operator=(const NoMemoryElsewhere&) = delete;
};

} // namespace ropeline::sample
