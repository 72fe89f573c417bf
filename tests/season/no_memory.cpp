#include "season/no_memory.h"

#include <atomic>
#include <cstdlib>
#include <new>

namespace {

std::atomic<bool> run_out = false;
thread_local bool spared = false;

} // namespace

void* operator new(std::size_t bytes) {
    if (run_out && !spared) throw std::bad_alloc{};
    if (void* memory = std::malloc(bytes == 0 ? 1 : bytes)) return memory;
    throw std::bad_alloc{};
}
void operator delete(void* memory) noexcept {
    std::free(memory);
}
void operator delete(void* memory, std::size_t) noexcept {
    std::free(memory);
}

namespace ropeline::sample {

NoMemoryElsewhere::NoMemoryElsewhere() {
    spared = true;
    run_out = true;
}
NoMemoryElsewhere::~NoMemoryElsewhere() {
    run_out = false;
    spared = false;
}

} // namespace ropeline::sample
