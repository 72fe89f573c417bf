// Whole numbers of any size in few bytes: small ones in one, negative ones folded in between.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace ropeline {

class NumberWriter {
public:
    void number(std::int64_t value) {
        auto rest = static_cast<std::uint64_t>(value) << 1 ^ static_cast<std::uint64_t>(value >> 63);
        for (; rest >= 128; rest >>= 7)
            bytes.push_back(static_cast<std::byte>(rest | 128));
        bytes.push_back(static_cast<std::byte>(rest));
    }
    std::vector<std::byte> bytes;
};

class NumberReader {
public:
    struct Damaged {}; ///< thrown where the bytes end too early

    explicit NumberReader(std::span<const std::byte> bytes) : rest_(bytes) {}
    std::int64_t number() {
        std::uint64_t value = 0;
        for (int shift = 0; shift < 64 && !rest_.empty(); shift += 7) {
            const auto part = std::to_integer<std::uint64_t>(rest_.front());
            rest_ = rest_.subspan(1);
            value |= (part & 127) << shift;
            if (part < 128)
                return static_cast<std::int64_t>(value >> 1) ^ -static_cast<std::int64_t>(value & 1);
        }
        throw Damaged{};
    }
    std::size_t left() const { return rest_.size(); }

private:
    std::span<const std::byte> rest_;
};

} // namespace ropeline
