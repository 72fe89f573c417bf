#include "film/packet_look.h"

#include <algorithm>

namespace ropeline {

namespace {

using Bytes = std::span<const std::uint8_t>;

/// Calls `visit(nal)` for each NAL unit until it returns false. Damaged lengths end the walk.
template <class Visit>
void each_nal(Bytes packet, int length_bytes, Visit visit) {
    if (length_bytes > 0) {
        const auto field = static_cast<std::size_t>(length_bytes);
        while (packet.size() > field) {
            std::size_t size = 0;
            for (std::size_t i = 0; i < field; ++i)
                size = size << 8 | packet[i];
            packet = packet.subspan(field);
            size = std::min(size, packet.size());
            if (size > 0 && !visit(packet.first(size))) return;
            packet = packet.subspan(size);
        }
        return;
    }
    std::size_t start = 0;
    bool open = false;
    for (std::size_t i = 0; i + 3 < packet.size(); ++i) {
        if (packet[i] != 0 || packet[i + 1] != 0 || packet[i + 2] != 1) continue;
        if (open && i > start && !visit(packet.subspan(start, i - start))) return;
        start = i + 3;
        open = true;
        // Slices are long and what is asked stands in their first bytes: look at a start at once.
        const int type = packet[start] & 0x1f;
        if (type == 1 || type == 5) {
            visit(packet.subspan(start));
            return;
        }
    }
    if (open && start < packet.size()) visit(packet.subspan(start));
}

/// Unsigned Exp-Golomb number at the head of the bytes (ITU-T H.264, 9.1), at most 16 bits.
int exp_golomb(Bytes bytes) {
    const auto bit = [&](int i) {
        const auto byte = static_cast<std::size_t>(i / 8);
        return byte < bytes.size() ? bytes[byte] >> (7 - i % 8) & 1 : 1;
    };
    int zeros = 0;
    while (zeros < 16 && bit(zeros) == 0)
        ++zeros;
    int value = 1;
    for (int i = 1; i <= zeros; ++i)
        value = value << 1 | bit(zeros + i);
    return value - 1;
}

/// Frames until the picture is right, from a recovery point message (ITU-T H.264 and H.265, annex D: payload
/// type 6).
std::optional<int> recovery_frames(Bytes messages) {
    while (messages.size() > 2) {
        int type = 0;
        std::size_t size = 0, i = 0;
        while (i < messages.size() && messages[i] == 0xff)
            type += messages[i++];
        if (i < messages.size()) type += messages[i++];
        while (i < messages.size() && messages[i] == 0xff)
            size += messages[i++];
        if (i < messages.size()) size += messages[i++];
        if (i >= messages.size()) return {};
        if (type == 6) return exp_golomb(messages.subspan(i));
        messages = messages.subspan(std::min(messages.size(), i + size));
    }
    return {};
}

PacketLook look_h264(Bytes packet, int length_bytes) {
    PacketLook look;
    look.entry = true; // the container's word, unless a recovery point says when
    each_nal(packet, length_bytes, [&](Bytes nal) {
        const int type = nal[0] & 0x1f;
        if (type == 6) {
            if (const auto frames = recovery_frames(nal.subspan(1))) look.recovery_pictures = *frames;
        }
        if (type != 1 && type != 5) return true;
        look.disposable = (nal[0] & 0x60) == 0;
        look.first_of_all = type == 5;
        if (type == 5) look.recovery_pictures = 0;
        return false;
    });
    return look;
}

PacketLook look_hevc(Bytes packet, int length_bytes) {
    PacketLook look;
    each_nal(packet, length_bytes, [&](Bytes nal) {
        const int type = nal[0] >> 1 & 0x3f;
        if (type >= 32) return true;
        look.disposable = type < 16 && type % 2 == 0; // sub-layer non-reference pictures
        look.layer = nal.size() > 1 ? (nal[1] & 7) - 1 : 0;
        look.entry = type >= 16 && type <= 23; // random access pictures: BLA, IDR, CRA
        look.first_of_all = type == 19 || type == 20;
        return false;
    });
    return look;
}

// VP8 data format (RFC 6386, 9.1) and VP9 bitstream specification, 6.2.
PacketLook look_vp8(Bytes packet) {
    PacketLook look;
    look.entry = true;
    look.shown = packet.empty() || (packet[0] >> 4 & 1) != 0;
    return look;
}

PacketLook look_vp9(Bytes packet) {
    PacketLook look;
    look.entry = true;
    if (packet.empty()) return look;
    const bool superframe =
        (packet.back() & 0xe0) == 0xc0; // several frames in one packet: the last one shows
    const int profile = (packet[0] >> 5 & 1) | (packet[0] >> 3 & 2);
    const int after = profile == 3 ? 2 : 3; // bits below show_existing_frame
    const bool existing = (packet[0] >> after & 1) != 0;
    const bool show = (packet[0] >> (after - 2) & 1) != 0;
    look.shown = superframe || existing || show;
    return look;
}

// MPEG-4 part 2 (ISO/IEC 14496-2, 6.2.5): start code B6, then two bits of picture type.
PacketLook look_mpeg4(Bytes packet) {
    constexpr std::size_t longest_empty_picture =
        19; // a picture without content, as encoders write it after packed ones
    PacketLook look;
    look.entry = true;
    for (std::size_t i = 0; i + 4 < packet.size(); ++i) {
        if (packet[i] != 0 || packet[i + 1] != 0 || packet[i + 2] != 1 || packet[i + 3] != 0xb6) continue;
        look.type = "IPBS"[packet[i + 4] >> 6];
        if (packet.size() <= longest_empty_picture) look.type = 'N';
        look.entry = look.type == 'I';
        break;
    }
    return look;
}

// MPEG-1 and MPEG-2 (ISO/IEC 13818-2, 6.2.3): start code 00, ten bits of order, then three of picture type; 3
// is B.
PacketLook look_mpeg2(Bytes packet) {
    PacketLook look;
    look.entry = true;
    for (std::size_t i = 0; i + 5 < packet.size(); ++i) {
        if (packet[i] != 0 || packet[i + 1] != 0 || packet[i + 2] != 1 || packet[i + 3] != 0) continue;
        look.disposable = (packet[i + 5] >> 3 & 7) == 3;
        break;
    }
    return look;
}

} // namespace

PacketLook look_at(CodecKind codec, Bytes packet, int length_bytes) {
    switch (codec) {
    case CodecKind::h264:
        return look_h264(packet, length_bytes);
    case CodecKind::hevc:
        return look_hevc(packet, length_bytes);
    case CodecKind::vp8:
        return look_vp8(packet);
    case CodecKind::vp9:
        return look_vp9(packet);
    case CodecKind::mpeg2:
        return look_mpeg2(packet);
    case CodecKind::mpeg4:
        return look_mpeg4(packet);
    case CodecKind::intra_only:
    case CodecKind::other:
        break;
    }
    PacketLook look;
    look.entry = true;
    return look;
}

int nal_length_bytes(CodecKind codec, Bytes extradata) {
    // avcC and hvcC begin with version 1; a start code begins with zeros.
    if (extradata.size() < 5 || extradata[0] != 1) return 0;
    if (codec == CodecKind::h264) return (extradata[4] & 3) + 1;
    if (codec == CodecKind::hevc && extradata.size() > 21) return (extradata[21] & 3) + 1;
    return 0;
}

} // namespace ropeline
