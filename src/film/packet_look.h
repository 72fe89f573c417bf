// What can be read off one compressed picture without decoding it.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

namespace ropeline {

enum class CodecKind { h264, hevc, vp8, vp9, mpeg2, mpeg4, intra_only, other };

struct PacketLook {
    bool entry = false;        ///< decoding may begin here, given that the container calls it a key frame
    bool first_of_all = false; ///< nothing after it leans on anything before it (H.264 IDR)
    int recovery_pictures = 0; ///< reference pictures to decode before all is right (gradual refresh)
    bool shown = true;         ///< false for pictures that only help others
    bool disposable = false;   ///< no other picture of its layer leans on it
    int layer = 0;             ///< of time scalability; HEVC only
    std::optional<char> type;  ///< 'I', 'P', 'B', 'S', or 'N' for an empty one, where the bytes say so
};

/// `length_bytes`: size of the NAL length field of H.264 and HEVC in MP4 and Matroska, 0 for start codes.
PacketLook look_at(CodecKind codec, std::span<const std::uint8_t> packet, int length_bytes);

/// The size of the NAL length field as the codec's own header data tells it; 0 for start codes.
int nal_length_bytes(CodecKind codec, std::span<const std::uint8_t> extradata);

} // namespace ropeline
