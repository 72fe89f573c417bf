#include "no_memory.h"

#include <atomic>
#include <cstdlib>
#include <new>

namespace {

std::atomic<bool> limited = false;
std::atomic<long> allocations_left{0}, failures_left{0};
thread_local bool spared = false;

void* allocated(std::size_t bytes) noexcept {
    if (limited && !spared && allocations_left-- <= 0 && failures_left-- > 0) return nullptr;
    return std::malloc(bytes == 0 ? 1 : bytes);
}

} // namespace

// All forms that the standard library frees through the plain `delete`: one left out would be another allocator's.
void* operator new(std::size_t bytes) {
    if (void* memory = allocated(bytes)) return memory;
    throw std::bad_alloc{};
}
void* operator new(std::size_t bytes, const std::nothrow_t&) noexcept {
    return allocated(bytes);
}
void operator delete(void* memory) noexcept {
    std::free(memory);
}
void operator delete(void* memory, std::size_t) noexcept {
    std::free(memory);
}

namespace ropeline::sample {

NoMemoryElsewhere::NoMemoryElsewhere(long after, long times) {
    spared = true;
    allocations_left = after;
    failures_left = times;
    limited = true;
}
NoMemoryElsewhere::~NoMemoryElsewhere() {
    limited = false;
    spared = false;
}

} // namespace ropeline::sample
