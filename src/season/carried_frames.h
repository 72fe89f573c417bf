// Frames of a stretch that a fit was carried along, packed: a film of two hours has 400 000 of them. Numbers lie in
// the machine's own order (little-endian wherever we run); the first bytes say so, and bytes that do not fit are
// "never carried".
#pragma once

#include "camera/carry.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace ropeline {

class CarriedFrames {
public:
    static constexpr std::int64_t head_bytes = 4, frame_bytes = 272;

    CarriedFrames();
    CarriedFrames(const std::vector<CarriedFrame>& frames);
    /// What every frame shares with the key fit (picture size, click sigma) is taken from there.
    static std::optional<CarriedFrames> from_bytes(std::span<const std::byte> bytes, const RinkFit& key);

    /// All frames of one picture size and click sigma. What paint and features agreed is not kept.
    void push_back(const CarriedFrame& frame);
    void replace(std::size_t index, const CarriedFrame& frame);
    std::size_t size() const { return (bytes_.size() - head_bytes) / frame_bytes; }
    bool empty() const { return size() == 0; }
    CarriedFrame operator[](std::size_t index) const;
    CarryState state(std::size_t index) const;
    const std::vector<std::byte>& bytes() const { return bytes_; }

private:
    std::vector<std::byte> bytes_;
    ImageSize image_;
    double click_sigma_px_ = 1.0;
};

} // namespace ropeline
