#include "film/packed_plane.h"

#include <array>
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

/// The runs of a row; where it ends within the last of them, that one is filled up with zeros.
class Runs {
public:
    Runs(const std::uint8_t* row, int width) : row_(row), whole_(static_cast<std::size_t>(width / run)) {
        if (row && width % run != 0)
            std::memcpy(last_.data(), row + whole_ * run, static_cast<std::size_t>(width % run));
    }
    const std::uint8_t* operator[](std::size_t i) const { return i < whole_ ? row_ + i * run : last_.data(); }

private:
    const std::uint8_t* row_;
    std::size_t whole_;
    std::array<std::uint8_t, run> last_{};
};

/// Returns how many bits the largest difference has.
int differ(const std::uint8_t* samples, const std::uint8_t* from, std::uint8_t* differences) {
    std::uint8_t all = 0;
    for (int x = 0; x < run; ++x) {
        differences[x] = folded(static_cast<std::uint8_t>(samples[x] - from[x]));
        all |= differences[x];
    }
    return static_cast<int>(std::bit_width(all));
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

} // namespace

std::size_t pack_plane(PlaneView plane, PlaneView neighbour, int width, int height,
                       std::vector<std::uint8_t>& packed, std::size_t used) {
    const auto runs = static_cast<std::size_t>((width + run - 1) / run);
    const std::size_t most = used + runs * static_cast<std::size_t>(height) * (run + 1);
    if (packed.size() < most) packed.resize(most);
    const std::vector<std::uint8_t> zeros(static_cast<std::size_t>(width), 0);
    std::uint8_t* out = packed.data() + used;
    for (int y = 0; y < height; ++y) {
        const std::uint8_t* bytes = plane.bytes + y * plane.stride;
        const Runs row(bytes, width), above(y > 0 ? bytes - plane.stride : zeros.data(), width);
        const Runs beside(neighbour.bytes ? neighbour.bytes + y * neighbour.stride : nullptr, width);
        for (std::size_t i = 0; i < runs; ++i) {
            constexpr int small_enough = 1; // bits; then the other way is not looked at
            std::uint8_t to_beside[run], to_above[run];
            const std::uint8_t* differences = to_beside;
            int bits = neighbour.bytes ? differ(row[i], beside[i], to_beside) : run;
            int head = bits | from_neighbour;
            if (bits > small_enough) {
                const int other_bits = differ(row[i], above[i], to_above);
                if (other_bits < bits) differences = to_above, bits = head = other_bits;
            }
            *out++ = static_cast<std::uint8_t>(head);
            each_part(bits, [&](auto part, int shift) {
                put_part<part>(differences, shift, out);
                out += 8 * part;
            });
        }
    }
    return static_cast<std::size_t>(out - packed.data());
}

void unpack_plane(const std::uint8_t* packed, PlaneView neighbour, std::uint8_t* bytes, std::ptrdiff_t stride,
                  int width, int height) {
    const auto runs = static_cast<std::size_t>((width + run - 1) / run);
    const std::vector<std::uint8_t> zeros(runs * run, 0);
    const std::uint8_t* above = zeros.data();
    const std::uint8_t* from = packed;
    for (int y = 0; y < height; ++y) {
        std::uint8_t* row = bytes + y * stride;
        const Runs beside(neighbour.bytes ? neighbour.bytes + y * neighbour.stride : nullptr, width);
        for (std::size_t i = 0; i < runs; ++i) {
            const int head = *from++;
            const std::uint8_t* base = (head & from_neighbour) != 0 ? beside[i] : above + i * run;
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
