// Memory that has run out on every thread but the one that says so.
#pragma once

namespace ropeline::sample {

/// As long as it lives, `new` throws std::bad_alloc on all other threads.
class NoMemoryElsewhere {
public:
    NoMemoryElsewhere();
    ~NoMemoryElsewhere();
    NoMemoryElsewhere(const NoMemoryElsewhere&) = delete;
    NoMemoryElsewhere& operator=(const NoMemoryElsewhere&) = delete;
};

} // namespace ropeline::sample
