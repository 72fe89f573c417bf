#include "film/packed_plane.h"

#include <algorithm>
#include <bit>
#include <cstring>

namespace ropeline {

namespace {

// A run is 64 samples: eight words of eight. Bit plane j of a run is one 64-bit number, so a run of b-bit
// samples takes b words. Multiplying gathers the lowest bits of eight bytes into one byte, and spreads them
// again.
constexpr int run = 64;
constexpr std::uint64_t ones = 0x0101010101010101;

std::uint64_t word_at(const std::uint8_t* bytes) {
    std::uint64_t word;
    std::memcpy(&word, bytes, sizeof word);
    return word;
}

// Small differences of either sign become small numbers: 0, -1, 1, -2 ... -> 0, 1, 2, 3 ...
std::uint8_t folded(std::uint8_t difference) {
    return static_cast<std::uint8_t>(difference << 1 ^ (difference & 128 ? 255 : 0));
}

std::uint8_t unfolded(std::uint8_t value) {
    return static_cast<std::uint8_t>(value >> 1 ^ (value & 1 ? 255 : 0));
}

std::uint64_t gathered(std::uint64_t word, int plane) {
    return ((word >> plane & ones) * 0x0102040810204080) >> 56;
}

std::uint64_t spread(std::uint64_t bits) { // bit i to the lowest bit of byte i
    const std::uint64_t apart = bits * ones & 0x8040201008040201;
    return (((apart + 0x007f7f7f7f7f7f7f) | apart) & 0x8080808080808080) >> 7;
}

} // namespace

void pack_plane(const std::uint8_t* bytes, std::ptrdiff_t stride, int width, int height,
                std::vector<std::uint8_t>& packed) {
    const auto runs = static_cast<std::size_t>((width + run - 1) / run);
    std::vector<std::uint8_t> above(runs * run, 0), row(runs * run, 0), differences(runs * run);
    std::size_t used = packed.size();
    packed.resize(used + runs * static_cast<std::size_t>(height) * (run + 1));
    for (int y = 0; y < height; ++y) {
        std::memcpy(row.data(), bytes + y * stride, static_cast<std::size_t>(width));
        for (std::size_t x = 0; x < row.size(); ++x)
            differences[x] = folded(static_cast<std::uint8_t>(row[x] - above[x]));
        for (std::size_t i = 0; i < runs; ++i) {
            const std::uint8_t* samples = differences.data() + i * run;
            std::uint64_t words[8], all = 0;
            for (int w = 0; w < 8; ++w)
                all |= words[w] = word_at(samples + w * 8);
            all |= all >> 32;
            all |= all >> 16;
            all |= all >> 8;
            const int bits = static_cast<int>(std::bit_width(all & 255));
            packed[used++] = static_cast<std::uint8_t>(bits);
            for (int plane = 0; plane < bits; ++plane) {
                std::uint64_t out = 0;
                for (int w = 0; w < 8; ++w)
                    out |= gathered(words[w], plane) << (8 * w);
                std::memcpy(packed.data() + used, &out, sizeof out);
                used += sizeof out;
            }
        }
        above.swap(row);
    }
    packed.resize(used);
}

std::span<const std::uint8_t> unpack_plane(std::span<const std::uint8_t> packed, std::uint8_t* bytes,
                                           std::ptrdiff_t stride, int width, int height) {
    const auto runs = static_cast<std::size_t>((width + run - 1) / run);
    std::vector<std::uint8_t> first(runs * run, 0);
    const std::uint8_t* above = first.data();
    const std::uint8_t* from = packed.data();
    for (int y = 0; y < height; ++y) {
        std::uint8_t* row = bytes + y * stride;
        for (std::size_t i = 0; i < runs; ++i) {
            const int bits = *from++;
            std::uint64_t words[8] = {};
            for (int plane = 0; plane < bits; ++plane) {
                const std::uint64_t in = word_at(from);
                from += sizeof in;
                for (int w = 0; w < 8; ++w)
                    words[w] |= spread(in >> (8 * w) & 255) << plane;
            }
            std::memcpy(row + i * run, words, sizeof words);
        }
        for (std::size_t x = 0; x < runs * run; ++x)
            row[x] = static_cast<std::uint8_t>(above[x] + unfolded(row[x]));
        above = row;
    }
    return packed.subspan(static_cast<std::size_t>(from - packed.data()));
}

} // namespace ropeline
