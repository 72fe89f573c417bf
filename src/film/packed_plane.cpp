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

constexpr int from_neighbour = 16; // in a run's head, beside its number of bits

struct Words {
    std::uint64_t word[8];
    int bits;
};

Words run_at(const std::uint8_t* differences) {
    Words words;
    std::uint64_t all = 0;
    for (int w = 0; w < 8; ++w)
        all |= words.word[w] = word_at(differences + w * 8);
    all |= all >> 32;
    all |= all >> 16;
    all |= all >> 8;
    words.bits = static_cast<int>(std::bit_width(all & 255));
    return words;
}

void differ(const std::vector<std::uint8_t>& row, const std::vector<std::uint8_t>& from,
            std::vector<std::uint8_t>& differences) {
    for (std::size_t x = 0; x < row.size(); ++x)
        differences[x] = folded(static_cast<std::uint8_t>(row[x] - from[x]));
}

} // namespace

std::size_t pack_plane(PlaneView plane, PlaneView neighbour, int width, int height,
                       std::vector<std::uint8_t>& packed, std::size_t used) {
    const auto runs = static_cast<std::size_t>((width + run - 1) / run);
    const auto row_bytes = static_cast<std::size_t>(width);
    std::vector<std::uint8_t> above(runs * run, 0), row(runs * run, 0), beside(runs * run, 0);
    std::vector<std::uint8_t> to_above(runs * run), to_beside(runs * run);
    const std::size_t most = used + runs * static_cast<std::size_t>(height) * (run + 1);
    if (packed.size() < most) packed.resize(most);
    for (int y = 0; y < height; ++y) {
        std::memcpy(row.data(), plane.bytes + y * plane.stride, row_bytes);
        differ(row, above, to_above);
        if (neighbour.bytes) {
            std::memcpy(beside.data(), neighbour.bytes + y * neighbour.stride, row_bytes);
            differ(row, beside, to_beside);
        }
        for (std::size_t i = 0; i < runs; ++i) {
            constexpr int small_enough = 1; // bits; then the other way is not looked at
            Words words = run_at((neighbour.bytes ? to_beside : to_above).data() + i * run);
            int head = neighbour.bytes ? words.bits | from_neighbour : words.bits;
            if (neighbour.bytes && words.bits > small_enough) {
                const Words other = run_at(to_above.data() + i * run);
                if (other.bits < words.bits) words = other, head = other.bits;
            }
            packed[used++] = static_cast<std::uint8_t>(head);
            for (int bit = 0; bit < words.bits; ++bit) {
                std::uint64_t out = 0;
                for (int w = 0; w < 8; ++w)
                    out |= gathered(words.word[w], bit) << (8 * w);
                std::memcpy(packed.data() + used, &out, sizeof out);
                used += sizeof out;
            }
        }
        above.swap(row);
    }
    return used;
}

void unpack_plane(const std::uint8_t* packed, PlaneView neighbour, std::uint8_t* bytes, std::ptrdiff_t stride,
                  int width, int height) {
    const auto runs = static_cast<std::size_t>((width + run - 1) / run);
    const std::vector<std::uint8_t> first(runs * run, 0);
    std::vector<std::uint8_t> beside(runs * run, 0);
    const std::uint8_t* above = first.data();
    const std::uint8_t* from = packed;
    for (int y = 0; y < height; ++y) {
        std::uint8_t* row = bytes + y * stride;
        if (neighbour.bytes) {
            std::memcpy(beside.data(), neighbour.bytes + y * neighbour.stride,
                        static_cast<std::size_t>(width));
        }
        for (std::size_t i = 0; i < runs; ++i) {
            const int head = *from++;
            const std::uint8_t* base = ((head & from_neighbour) != 0 ? beside.data() : above) + i * run;
            std::uint8_t* samples = row + i * run;
            if ((head & 15) == 0) {
                std::memcpy(samples, base, run);
                continue;
            }
            std::uint64_t words[8] = {};
            for (int bit = 0; bit < (head & 15); ++bit) {
                const std::uint64_t in = word_at(from);
                from += sizeof in;
                for (int w = 0; w < 8; ++w)
                    words[w] |= spread(in >> (8 * w) & 255) << bit;
            }
            std::uint8_t differences[run];
            std::memcpy(differences, words, sizeof words);
            for (int x = 0; x < run; ++x)
                samples[x] = static_cast<std::uint8_t>(base[x] + unfolded(differences[x]));
        }
        above = row;
    }
}

} // namespace ropeline
