#include "film/packed_plane.h"

#include <algorithm>
#include <bit>
#include <cstring>
#include <type_traits>

namespace ropeline {

namespace {

// A run is 64 samples. Samples of b bits take 8 b bytes: four, two and one bits apart, as many of these as add
// up to b, so that every step is the same for all samples and the compiler does sixteen of them at once.
constexpr int run = 64;

// Small differences of either sign become small numbers: 0, -1, 1, -2 ... -> 0, 1, 2, 3 ...
std::uint8_t folded(std::uint8_t difference) {
    return static_cast<std::uint8_t>(difference << 1 ^ -(difference >> 7));
}

std::uint8_t unfolded(std::uint8_t value) {
    return static_cast<std::uint8_t>(value >> 1 ^ -(value & 1));
}

constexpr int from_neighbour = 16; // in a run's head, beside its number of bits

int bits_of(const std::uint8_t* differences) {
    std::uint64_t all = 0;
    for (int w = 0; w < run / 8; ++w) {
        std::uint64_t word;
        std::memcpy(&word, differences + w * 8, sizeof word);
        all |= word;
    }
    all |= all >> 32;
    all |= all >> 16;
    all |= all >> 8;
    return static_cast<int>(std::bit_width(all & 255));
}

/// `part` bits of each sample, from `shift` on, into 8 * part bytes.
template <int part>
void put_part(const std::uint8_t* samples, int shift, std::uint8_t* out) {
    constexpr int bytes = 8 * part, mask = (1 << part) - 1;
    for (int i = 0; i < bytes; ++i) {
        int gathered = 0;
        for (int k = 0; k < 8 / part; ++k)
            gathered |= (samples[i + k * bytes] >> shift & mask) << (k * part);
        out[i] = static_cast<std::uint8_t>(gathered);
    }
}

template <int part>
void get_part(const std::uint8_t* in, int shift, std::uint8_t* samples) {
    constexpr int bytes = 8 * part, mask = (1 << part) - 1;
    for (int k = 0; k < 8 / part; ++k) {
        for (int i = 0; i < bytes; ++i) {
            const int spread = (in[i] >> (k * part) & mask) << shift;
            samples[i + k * bytes] = static_cast<std::uint8_t>(samples[i + k * bytes] | spread);
        }
    }
}

/// Calls `with` for each part of so many bits: how many bits it has, and where they begin.
template <class With>
void each_part(int bits, With&& with) {
    if (bits == 8) return with(std::integral_constant<int, 8>{}, 0);
    int shift = 0;
    if ((bits & 4) != 0) with(std::integral_constant<int, 4>{}, shift), shift += 4;
    if ((bits & 2) != 0) with(std::integral_constant<int, 2>{}, shift), shift += 2;
    if ((bits & 1) != 0) with(std::integral_constant<int, 1>{}, shift);
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
            const std::uint8_t* differences = (neighbour.bytes ? to_beside : to_above).data() + i * run;
            int bits = bits_of(differences);
            int head = neighbour.bytes ? bits | from_neighbour : bits;
            if (neighbour.bytes && bits > small_enough) {
                const std::uint8_t* others = to_above.data() + i * run;
                if (const int other_bits = bits_of(others); other_bits < bits)
                    differences = others, bits = head = other_bits;
            }
            packed[used++] = static_cast<std::uint8_t>(head);
            each_part(bits, [&](auto part, int shift) {
                put_part<part>(differences, shift, packed.data() + used);
                used += 8 * part;
            });
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
            std::uint8_t differences[run] = {};
            each_part(head & 15, [&](auto part, int shift) {
                get_part<part>(from, shift, differences);
                from += 8 * part;
            });
            for (int x = 0; x < run; ++x)
                samples[x] = static_cast<std::uint8_t>(base[x] + unfolded(differences[x]));
        }
        above = row;
    }
}

} // namespace ropeline
