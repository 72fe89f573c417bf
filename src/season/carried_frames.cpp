#include "season/carried_frames.h"

#include <cstddef>
#include <cstring>

namespace ropeline {

namespace {

constexpr std::uint32_t packing = 0x52430003; // "RC", version 3: the way back is worked out again

/// One frame, without padding.
struct PackedFrame {
    double image_from_ice[9];
    double radial;
    float covariance[45]; ///< upper triangle, row by row
    float rms_px, sigma_m;
    std::uint32_t state;
};
static_assert(sizeof(PackedFrame) == CarriedFrames::frame_bytes &&
              sizeof packing == CarriedFrames::head_bytes);

Matrix3 inverse(const Matrix3& m) {
    const auto minor = [&](std::size_t a, std::size_t b, std::size_t c, std::size_t d) {
        return m[a] * m[d] - m[b] * m[c];
    };
    const double determinant = m[0] * minor(4, 5, 7, 8) - m[1] * minor(3, 5, 6, 8) + m[2] * minor(3, 4, 6, 7);
    Matrix3 back{minor(4, 5, 7, 8), minor(2, 1, 8, 7), minor(1, 2, 4, 5),
                 minor(5, 3, 8, 6), minor(0, 2, 6, 8), minor(2, 0, 5, 3),
                 minor(3, 4, 6, 7), minor(1, 0, 7, 6), minor(0, 1, 3, 4)};
    for (double& number : back)
        number /= determinant;
    return back;
}

PackedFrame packed(const CarriedFrame& frame) {
    PackedFrame out{};
    std::memcpy(out.image_from_ice, frame.fit.image_from_ice.data(), sizeof out.image_from_ice);
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

PackedFrame frame_in(std::span<const std::byte> bytes, std::size_t index) {
    PackedFrame one{};
    std::memcpy(&one, bytes.data() + CarriedFrames::head_bytes + index * sizeof one, sizeof one);
    return one;
}

} // namespace

CarriedFrames::CarriedFrames() : bytes_(sizeof packing) {
    std::memcpy(bytes_.data(), &packing, sizeof packing);
}

CarriedFrames::CarriedFrames(const std::vector<CarriedFrame>& frames) : CarriedFrames() {
    bytes_.reserve(bytes_.size() + frames.size() * sizeof(PackedFrame));
    for (const CarriedFrame& frame : frames)
        push_back(frame);
}

std::optional<CarriedFrames> CarriedFrames::from_bytes(std::span<const std::byte> bytes, const RinkFit& key) {
    std::uint32_t found = 0;
    if (bytes.size() < sizeof found) return std::nullopt;
    std::memcpy(&found, bytes.data(), sizeof found);
    if (found != packing || (bytes.size() - sizeof found) % sizeof(PackedFrame) != 0) return std::nullopt;
    CarriedFrames frames;
    frames.bytes_.assign(bytes.begin(), bytes.end());
    frames.image_ = key.image;
    frames.click_sigma_px_ = key.click_sigma_px;
    for (std::size_t i = 0; i < frames.size(); ++i) {
        if (frame_in(bytes, i).state > static_cast<std::uint32_t>(CarryState::lost)) return std::nullopt;
    }
    return frames;
}

void CarriedFrames::push_back(const CarriedFrame& frame) {
    if (frame.fit.image.width_px > 0) { // a frame without a picture has no size
        image_ = frame.fit.image;
        click_sigma_px_ = frame.fit.click_sigma_px;
    }
    const PackedFrame one = packed(frame);
    const auto* first = reinterpret_cast<const std::byte*>(&one);
    bytes_.insert(bytes_.end(), first, first + sizeof one);
}

void CarriedFrames::replace(std::size_t index, const CarriedFrame& frame) {
    const PackedFrame one = packed(frame);
    std::memcpy(bytes_.data() + head_bytes + index * sizeof one, &one, sizeof one);
}

CarriedFrame CarriedFrames::operator[](std::size_t index) const {
    const PackedFrame in = frame_in(bytes_, index);
    CarriedFrame frame;
    frame.state = static_cast<CarryState>(in.state);
    frame.rms_px = frame.fit.rms_px = in.rms_px;
    frame.sigma_m = in.sigma_m;
    std::memcpy(frame.fit.image_from_ice.data(), in.image_from_ice, sizeof in.image_from_ice);
    frame.fit.ice_from_image = inverse(frame.fit.image_from_ice);
    std::size_t next = 0;
    for (std::size_t row = 0; row < 9; ++row) {
        for (std::size_t column = row; column < 9; ++column) {
            frame.fit.covariance[9 * row + column] = frame.fit.covariance[9 * column + row] =
                in.covariance[next++];
        }
    }
    frame.fit.radial = in.radial;
    frame.fit.image = image_;
    frame.fit.click_sigma_px = click_sigma_px_;
    return frame;
}

CarryState CarriedFrames::state(std::size_t index) const {
    std::uint32_t state = 0;
    const std::size_t at = head_bytes + index * frame_bytes + offsetof(PackedFrame, state);
    std::memcpy(&state, bytes_.data() + at, sizeof state);
    return static_cast<CarryState>(state);
}

} // namespace ropeline
