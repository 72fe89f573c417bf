#include "film/kept_index.h"

#include "film/packed_numbers.h"

#include <algorithm>

namespace ropeline {

namespace {

constexpr std::uint64_t layout_version = 1;

void put_text(NumberWriter& to, const std::string& value) {
    to.number(static_cast<std::int64_t>(value.size()));
    for (const char c : value)
        to.bytes.push_back(static_cast<std::byte>(c));
}

// The fields that go from packet to packet in small steps; `no_time` stands apart in the flags.
struct Times {
    std::int64_t position = 0, dts = 0, pts = 0, order = 0;
};

constexpr std::int64_t key = 1, entry = 2, hidden = 4, disposable = 8, new_sequence = 16, has_dts = 32,
                       has_pts = 64, has_order = 128;

std::int64_t flags_of(const PacketNote& note) {
    return (note.key ? key : 0) | (note.entry ? entry : 0) | (note.hidden ? hidden : 0) |
           (note.disposable ? disposable : 0) | (note.new_sequence ? new_sequence : 0) |
           (note.dts != no_time ? has_dts : 0) | (note.pts != no_time ? has_pts : 0) |
           (note.order != no_time ? has_order : 0);
}

std::int64_t difference(std::int64_t a, std::int64_t b) { // wraps instead of overflowing on damaged times
    return static_cast<std::int64_t>(static_cast<std::uint64_t>(a) - static_cast<std::uint64_t>(b));
}

std::int64_t sum(std::int64_t a, std::int64_t b) {
    return static_cast<std::int64_t>(static_cast<std::uint64_t>(a) + static_cast<std::uint64_t>(b));
}

void write_head(NumberWriter& to, const Source& source, const std::string& fingerprint) {
    put_text(to, "ropeline film index");
    to.number(layout_version);
    to.number(avformat_version());
    put_text(to, fingerprint);
    to.number(source.stream().index);
    to.number(source.stream().time_base.num);
    to.number(source.stream().time_base.den);
    to.number(source.frame_ticks());
}

} // namespace

std::vector<std::byte> pack(const FilmIndex& index, const Source& source, const std::string& fingerprint) {
    NumberWriter to;
    write_head(to, source, fingerprint);
    to.number(static_cast<std::int64_t>(index.packets.size()));
    Times last;
    for (const PacketNote& note : index.packets) {
        to.number(flags_of(note));
        to.number(difference(note.position, last.position));
        to.number(note.size);
        to.number(note.recovery_pictures);
        last.position = note.position;
        if (note.dts != no_time) to.number(difference(note.dts, last.dts)), last.dts = note.dts;
        if (note.pts != no_time) to.number(difference(note.pts, last.pts)), last.pts = note.pts;
        if (note.order != no_time) to.number(difference(note.order, last.order)), last.order = note.order;
    }
    return std::move(to.bytes);
}

std::optional<FilmIndex> unpack(std::span<const std::byte> bytes, const Source& source,
                                const std::string& fingerprint) {
    NumberWriter expected;
    write_head(expected, source, fingerprint);
    const std::size_t head = expected.bytes.size();
    if (bytes.size() <= head || !std::equal(expected.bytes.begin(), expected.bytes.end(), bytes.begin()))
        return {};
    try {
        NumberReader from(bytes.subspan(head));
        FilmIndex index;
        index.time_base = {source.stream().time_base.num, source.stream().time_base.den};
        const std::int64_t count = from.number();
        if (count < 0 || static_cast<std::size_t>(count) > from.left()) return {};
        index.packets.resize(static_cast<std::size_t>(count));
        Times last;
        for (PacketNote& note : index.packets) {
            const std::int64_t flags = from.number();
            note.key = flags & key;
            note.entry = flags & entry;
            note.hidden = flags & hidden;
            note.disposable = flags & disposable;
            note.new_sequence = flags & new_sequence;
            note.position = last.position = sum(last.position, from.number());
            note.size = static_cast<std::int32_t>(from.number());
            note.recovery_pictures = static_cast<std::int32_t>(from.number());
            if (flags & has_dts) note.dts = believed(last.dts = sum(last.dts, from.number()));
            if (flags & has_pts) note.pts = believed(last.pts = sum(last.pts, from.number()));
            if (flags & has_order) note.order = last.order = sum(last.order, from.number());
        }
        if (from.left() != 0) return {};
        arrange(index, source.frame_ticks());
        return index;
    } catch (const NumberReader::Damaged&) {
        return {};
    }
}

} // namespace ropeline
