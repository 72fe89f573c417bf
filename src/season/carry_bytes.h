// Inside src/season: a carried stretch as bytes. Numbers lie in the machine's own order (little-endian
// wherever we run); the first bytes say so, and bytes that do not fit are "never carried".
#pragma once

#include "season/records.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace ropeline {

constexpr std::int64_t head_bytes = 4, frame_bytes = 19 * 8 + 48 * 4;

std::vector<std::byte> bytes_of(const StoredCarry& carry);
/// What every frame shares with the key fit (picture size, click sigma) is
/// taken from there.
std::optional<std::vector<CarriedFrame>> frames_of_bytes(std::span<const std::byte> bytes,
                                                         const RinkFit& key);

} // namespace ropeline
