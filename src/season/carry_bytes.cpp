#include "season/carry_bytes.h"

#include <cstdint>
#include <cstring>

namespace ropeline {

namespace {

constexpr std::uint32_t packing = 0x52430002; // "RC", version 2: each frame has its lens

/// One frame, without padding.
struct PackedFrame {
    double image_from_ice[9], ice_from_image[9];
    double radial;
    float covariance[45]; ///< upper triangle, row by row
    float rms_px, sigma_m;
    std::uint32_t state;
};
static_assert(sizeof(PackedFrame) == frame_bytes && sizeof packing == head_bytes);

PackedFrame packed(const CarriedFrame& frame) {
    PackedFrame out{};
    std::memcpy(out.image_from_ice, frame.fit.image_from_ice.data(), sizeof out.image_from_ice);
    std::memcpy(out.ice_from_image, frame.fit.ice_from_image.data(), sizeof out.ice_from_image);
    out.radial = frame.fit.radial;
    std::size_t next = 0;
    for (std::size_t row = 0; row < 9; ++row) {
        for (std::size_t column = row; column < 9; ++column) {
            out.covariance[next++] = static_cast<float>(frame.fit.covariance[9 * row + column]);
        }
    }
    out.rms_px = static_cast<float>(frame.rms_px);
    out.sigma_m = static_cast<float>(frame.sigma_m);
    out.state = static_cast<std::uint32_t>(frame.state);
    return out;
}

CarriedFrame unpacked(const PackedFrame& in, const RinkFit& key) {
    CarriedFrame frame;
    frame.state = static_cast<CarryState>(in.state);
    frame.rms_px = frame.fit.rms_px = in.rms_px;
    frame.sigma_m = in.sigma_m;
    std::memcpy(frame.fit.image_from_ice.data(), in.image_from_ice, sizeof in.image_from_ice);
    std::memcpy(frame.fit.ice_from_image.data(), in.ice_from_image, sizeof in.ice_from_image);
    std::size_t next = 0;
    for (std::size_t row = 0; row < 9; ++row) {
        for (std::size_t column = row; column < 9; ++column) {
            frame.fit.covariance[9 * row + column] = frame.fit.covariance[9 * column + row] =
                in.covariance[next++];
        }
    }
    frame.fit.radial = in.radial;
    frame.fit.image = key.image;
    frame.fit.click_sigma_px = key.click_sigma_px;
    return frame;
}

} // namespace

std::vector<std::byte> bytes_of(const StoredCarry& carry) {
    std::vector<std::byte> bytes(sizeof packing + carry.frames.size() * sizeof(PackedFrame));
    std::memcpy(bytes.data(), &packing, sizeof packing);
    std::byte* at = bytes.data() + sizeof packing;
    for (const CarriedFrame& frame : carry.frames) {
        const PackedFrame one = packed(frame);
        std::memcpy(at, &one, sizeof one);
        at += sizeof one;
    }
    return bytes;
}

std::optional<std::vector<CarriedFrame>> frames_of_bytes(std::span<const std::byte> bytes,
                                                         const RinkFit& key) {
    std::uint32_t found = 0;
    if (bytes.size() < sizeof found) return std::nullopt;
    std::memcpy(&found, bytes.data(), sizeof found);
    bytes = bytes.subspan(sizeof found);
    if (found != packing || bytes.size() % sizeof(PackedFrame) != 0) return std::nullopt;
    std::vector<CarriedFrame> frames;
    for (; !bytes.empty(); bytes = bytes.subspan(sizeof(PackedFrame))) {
        PackedFrame one{};
        std::memcpy(&one, bytes.data(), sizeof one);
        if (one.state > static_cast<std::uint32_t>(CarryState::lost)) return std::nullopt;
        frames.push_back(unpacked(one, key));
    }
    return frames;
}

} // namespace ropeline
