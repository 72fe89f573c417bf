#include "film/film_index.h"

#include <algorithm>
#include <limits>
#include <numeric>

namespace ropeline {

namespace {

using Order = std::vector<std::int32_t>; // packets in the order their pictures are shown

bool starts_again(const PacketNote& before, const PacketNote& note, std::int64_t a_second) {
    if (before.dts == no_time || note.dts == no_time || note.dts >= before.dts) return false;
    return note.key || before.dts - note.dts > a_second;
}

// Runs of packets over which time does not jump back: joined recordings, discontinuities, repeated edits.
std::vector<std::size_t> run_starts(const FilmIndex& index) {
    const auto& packets = index.packets;
    const std::int64_t a_second = index.time_base.denominator / std::max(1, index.time_base.numerator);
    std::vector<std::size_t> starts{0};
    for (std::size_t i = 1; i < packets.size(); ++i) {
        const bool again = starts_again(packets[i - 1], packets[i], a_second) || packets[i].new_sequence;
        if (again) starts.push_back(i);
    }
    starts.push_back(packets.size());
    return starts;
}

Order show_order(const FilmIndex& index, bool by_pts) {
    Order order(index.packets.size());
    std::iota(order.begin(), order.end(), 0);
    const auto key = [&](std::int32_t packet) {
        const PacketNote& note = index.packets[static_cast<std::size_t>(packet)];
        return by_pts ? note.pts : note.order;
    };
    const auto starts = run_starts(index);
    for (std::size_t run = 0; run + 1 < starts.size(); ++run) {
        const auto at = [&](std::size_t i) { return order.begin() + static_cast<std::ptrdiff_t>(i); };
        std::stable_sort(at(starts[run]), at(starts[run + 1]),
                         [&](std::int32_t a, std::int32_t b) { return key(a) < key(b); });
    }
    return order;
}

int reorder_depth(const Order& order) {
    // Packets decoded before the picture shown at place i, beyond the i that were already shown.
    std::int32_t furthest = -1;
    int depth = 0;
    for (std::size_t i = 0; i < order.size(); ++i) {
        furthest = std::max(furthest, order[i]);
        depth = std::max(depth, furthest - static_cast<std::int32_t>(i));
    }
    return depth;
}

// Without pts the k-th picture shown takes the k-th decoding time, later by the reorder delay, as players do.
void borrow_times(FilmIndex& index, std::int64_t frame_ticks) {
    std::vector<std::int64_t> decoding;
    for (const PacketNote& note : index.packets)
        decoding.push_back(note.dts);
    const bool no_times =
        std::all_of(decoding.begin(), decoding.end(), [](auto dts) { return dts == no_time; });
    for (std::size_t i = 0; i < decoding.size(); ++i) {
        if (decoding[i] == no_time) decoding[i] = i == 0 ? 0 : decoding[i - 1] + frame_ticks;
    }
    const auto delay = static_cast<std::size_t>(no_times ? 0 : index.reorder);
    std::int64_t previous = no_time;
    for (std::size_t frame = 0; frame < index.pts.size(); ++frame) {
        std::int64_t& ticks = index.pts[frame].ticks;
        if (ticks == no_time) {
            const std::size_t lent = frame + delay;
            ticks =
                lent < decoding.size()
                    ? decoding[lent]
                    : decoding.back() + static_cast<std::int64_t>(lent - decoding.size() + 1) * frame_ticks;
        }
        if (previous != no_time && ticks <= previous) ticks = previous + 1;
        previous = ticks;
    }
}

struct Entry {
    std::int32_t packet;
    std::int64_t good_from; // place in the show order
};

std::vector<Entry> entries_of(const FilmIndex& index, const std::vector<std::int64_t>& place) {
    std::vector<Entry> entries{{0, 0}}; // nothing comes before the first packet
    const auto count = static_cast<std::int32_t>(index.packets.size());
    for (std::int32_t packet = 1; packet < count; ++packet) {
        const PacketNote& note = index.packets[static_cast<std::size_t>(packet)];
        if (!note.entry) continue;
        std::int64_t good_from = place[static_cast<std::size_t>(packet)];
        std::int32_t to_decode = note.recovery_pictures;
        for (std::int32_t i = packet + 1; i < count && to_decode > 0; ++i) {
            const auto at = static_cast<std::size_t>(i);
            if (!index.packets[at].disposable) --to_decode;
            good_from = std::max(good_from, place[at]);
        }
        entries.push_back({packet, good_from});
    }
    return entries;
}

void choose_entries(FilmIndex& index, const Order& order) {
    std::vector<std::int64_t> place(order.size());
    for (std::size_t i = 0; i < order.size(); ++i)
        place[static_cast<std::size_t>(order[i])] = static_cast<std::int64_t>(i);
    const auto entries = entries_of(index, place);
    index.entry_of_frame.clear();
    for (const std::int32_t packet : index.packet_of_frame) {
        auto entry = std::upper_bound(entries.begin(), entries.end(), packet,
                                      [](std::int32_t p, const Entry& e) { return p < e.packet; });
        --entry;
        // A picture shown before its entry leans on the sequence before it.
        while (entry != entries.begin() && entry->good_from > place[static_cast<std::size_t>(packet)])
            --entry;
        index.entry_of_frame.push_back(entry->packet);
    }
}

} // namespace

void arrange(FilmIndex& index, std::int64_t frame_ticks) {
    index.packet_of_frame.clear();
    index.pts.clear();
    index.frame_of_packet.assign(index.packets.size(), -1);
    if (index.packets.empty()) return;
    const bool by_pts = std::none_of(index.packets.begin(), index.packets.end(),
                                     [](const auto& note) { return note.pts == no_time; });
    const Order order = show_order(index, by_pts);
    index.reorder = reorder_depth(order);
    for (const std::int32_t packet : order) {
        const PacketNote& note = index.packets[static_cast<std::size_t>(packet)];
        if (note.hidden) continue;
        index.frame_of_packet[static_cast<std::size_t>(packet)] = static_cast<std::int32_t>(index.frames());
        index.packet_of_frame.push_back(packet);
        index.pts.push_back({note.pts});
    }
    if (!by_pts) borrow_times(index, frame_ticks);
    choose_entries(index, order);
}

std::int32_t entry_before(const FilmIndex& index, std::int32_t entry) {
    for (std::int32_t packet = entry - 1; packet > 0; --packet) {
        if (index.packets[static_cast<std::size_t>(packet)].entry) return packet;
    }
    return 0;
}

} // namespace ropeline
