#include "season/season_file.h"

#include <fmt/core.h>

#include <chrono>
#include <cstdint>
#include <mutex>
#include <random>

namespace ropeline {

// RFC 9562, 5.7, with the 12 bits after the version as a counter (6.2, method 1): ids made within one
// millisecond still sort in the order they were made.
Id new_id() {
    static std::mutex mutex;
    static std::mt19937_64 random{[] {
        std::random_device device;
        std::seed_seq seed{device(), device(), device(), device(), device(), device(), device(), device()};
        return std::mt19937_64{seed};
    }()};
    static std::uint64_t last_tick = 0; // milliseconds, then 12 bits of counter

    const std::scoped_lock lock{mutex};
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    const auto milliseconds =
        static_cast<std::uint64_t>(std::chrono::duration_cast<std::chrono::milliseconds>(now).count());
    last_tick = std::max(milliseconds << 12, last_tick + 1);
    const std::uint64_t tail = random();
    return fmt::format("{:08x}-{:04x}-7{:03x}-{:04x}-{:012x}", (last_tick >> 28) & 0xffffffffU,
                       (last_tick >> 12) & 0xffffU, last_tick & 0xfffU, 0x8000U | ((tail >> 48) & 0x3fffU),
                       tail & 0xffffffffffffU);
}

} // namespace ropeline
