#include "film/film_opening.h"

#include <algorithm>

#include "film/decoding.h"
#include "film/film_error.h"
#include "film/native_picture.h"
#include "film/read_index.h"

namespace ropeline {

namespace {

std::size_t slot(std::int64_t i) {
    return static_cast<std::size_t>(i);
}

// A film cut at its head begins with pictures that lean on what is no longer there. Which of them can be
// shown is asked of the decoder, over the first sequence only.
void hide_lost_head(FilmIndex& index, const Source& source, int stream) {
    constexpr std::int32_t longest_head = 2000; // packets; a longer stretch without any entry is no cut head
    const auto& packets = index.packets;
    const auto first =
        std::find_if(packets.begin(), packets.end(), [](const PacketNote& note) { return note.entry; });
    const auto entry = static_cast<std::int32_t>(first - packets.begin());
    if (first == packets.end() || entry > longest_head || index.frame_of_packet[slot(entry)] < 0) return;
    const std::int32_t safe = index.frame_of_packet[slot(entry)];
    if (entry == 0 && safe == 0) return;

    std::vector<bool> shown(slot(safe) + 1, false);
    Decoding decoding(Source(source.path(), stream), std::make_shared<const FilmIndex>(index), 1);
    decoding.begin_at(0);
    bool passed = false;
    const auto sink = [&](FrameIndex frame, const PicturePtr&) {
        if (number(frame) < safe) shown[slot(number(frame))] = true;
        passed = passed || number(frame) > safe;
    };
    while (!passed && decoding.step(sink)) {
    }
    for (std::int32_t frame = 0; frame < safe; ++frame) {
        if (!shown[slot(frame)]) index.packets[slot(index.packet_of_frame[slot(frame)])].hidden = true;
    }
    arrange(index, source.frame_ticks());
}

// Where two frames lie further apart than the film's usual step although its rate does not vary.
std::vector<FilmHole> gaps_in(const FilmIndex& index) {
    std::vector<std::int64_t> steps;
    for (std::size_t i = 1; i < index.pts.size(); ++i)
        steps.push_back(index.pts[i].ticks - index.pts[i - 1].ticks);
    if (steps.size() < 8) return {};
    std::vector<std::int64_t> sorted = steps;
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2);
    std::nth_element(sorted.begin(), middle, sorted.end());
    const std::int64_t usual = std::max<std::int64_t>(1, *middle);
    const auto odd = std::count_if(steps.begin(), steps.end(), [&](std::int64_t step) {
        return std::abs(step - usual) > std::max<std::int64_t>(1, usual / 4);
    });
    constexpr std::int64_t odd_share =
        50; // more than one odd step in so many: the rate varies, there is nothing to miss
    if (odd * odd_share > static_cast<std::int64_t>(steps.size())) return {};
    constexpr std::int64_t most_lost = std::int64_t{1} << 32; // times may be nonsense
    std::vector<FilmHole> holes;
    // A film cut between two packets lacks pictures just before its last ones; that is its end, not a hole.
    const std::size_t tail = std::min(steps.size(), static_cast<std::size_t>(index.reorder) + 1);
    for (std::size_t i = 0; i < steps.size() - tail; ++i) {
        const std::int64_t lost = std::min((steps[i] + usual / 2) / usual - 1, most_lost);
        if (lost < 1) continue;
        const FrameIndex before{static_cast<std::int64_t>(i)}, after{static_cast<std::int64_t>(i) + 1};
        holes.push_back({before, after, lost, std::to_string(lost) + " frames are not in the film"});
    }
    return holes;
}

// Pictures the container's own tables speak of that lie beyond the end of the file.
std::int64_t cut_off(const FilmIndex& index, const FilmFacts& facts, const Source& source) {
    AVStream& stream = source.stream();
    if (facts.container.starts_with("mov")) {
        std::int64_t beyond = 0;
        for (int i = 0; i < avformat_index_get_entries_count(&stream); ++i) {
            const AVIndexEntry& entry = *avformat_index_get_entry(&stream, i);
            if (entry.pos > static_cast<std::int64_t>(facts.file_bytes) - entry.size) ++beyond;
        }
        return beyond;
    }
    // AVI's header counts pictures, also the few empty ones some encoders begin with.
    constexpr std::int64_t empty_ones = 3;
    const std::int64_t lacking = stream.nb_frames - static_cast<std::int64_t>(index.packets.size());
    return facts.container == "avi" && lacking > empty_ones ? lacking : 0;
}

void warn(OpenFilm& film, const Source& source) {
    if (const std::int64_t cut = cut_off(*film.index, film.facts, source); cut > 0) {
        film.facts.warnings.push_back("the film is cut off: " + std::to_string(cut) +
                                      " more pictures are spoken of, " +
                                      std::to_string(film.index->frames()) + " are there");
        const FrameIndex last{film.index->frames() - 1};
        film.holes.push_back({last, last, cut, std::to_string(cut) + " frames are cut off the end"});
    }
    std::int64_t lost = 0;
    const auto gaps = gaps_in(*film.index);
    for (const FilmHole& gap : gaps)
        lost += gap.lost_frames;
    if (lost > 0) {
        film.facts.warnings.push_back(std::to_string(lost) + " frames are not in the film, at " +
                                      std::to_string(gaps.size()) +
                                      (gaps.size() == 1 ? " place" : " places"));
    }
    film.holes.insert(film.holes.end(), gaps.begin(), gaps.end());
}

} // namespace

PicturePtr first_picture_of(Source& source) {
    constexpr std::size_t most_kept =
        64; // packets; usually the picture needs a few, and opening anew is dear
    PictureMemory memory;
    const av::Codec codec =
        open_decoder(source, 1, 0, memory); // one thread: more would only hold the first picture back
    const auto packet = av::make_packet();
    const auto frame = av::make_frame();
    std::deque<av::Packet> kept;
    PicturePtr picture;
    bool more = true;
    while (more && !picture) {
        more = source.read(*packet);
        const av::PacketLease lease(*packet);
        if (more && kept.size() <= most_kept)
            kept.push_back(av::owned<av::Packet>(av_packet_clone(packet.get())));
        avcodec_send_packet(codec.get(), more ? packet.get() : nullptr);
        if (avcodec_receive_frame(codec.get(), frame.get()) >= 0)
            picture = picture_from(*frame, {frame->best_effort_timestamp});
    }
    if (more && kept.size() <= most_kept) {
        source.give_back(std::move(kept));
    } else {
        source.rewind();
    }
    return picture;
}

OpenFilm open_film(Source& source, const FilmFacts& facts, std::span<const std::byte> kept,
                   const std::function<void(std::int64_t)>& progress, const std::stop_token& stop) {
    OpenFilm film{facts, nullptr, {}};
    auto index = unpack(kept, source, facts.fingerprint);
    if (!index) {
        index = read_index(source, progress, stop);
        if (stop.stop_requested()) return film;
        hide_lost_head(*index, source, source.wished_stream());
    }
    if (index->frames() == 0) {
        throw FilmError(FilmFault::damaged,
                        facts.path +
                            " holds no picture; it was cut off, copy it again from the camera or card");
    }
    film.index = std::make_shared<const FilmIndex>(*std::move(index));
    warn(film, source);
    return film;
}

std::vector<FilmHole> holes_with(std::vector<FilmHole> holes, const std::set<std::int64_t>& undecodable) {
    for (auto first = undecodable.begin(); first != undecodable.end();) {
        auto next = std::next(first);
        std::int64_t last = *first;
        while (next != undecodable.end() && *next == last + 1)
            last = *next++;
        const std::int64_t lost = last - *first + 1;
        holes.push_back(
            {FrameIndex{*first}, FrameIndex{last}, lost, std::to_string(lost) + " frames cannot be decoded"});
        first = next;
    }
    std::sort(holes.begin(), holes.end(),
              [](const FilmHole& a, const FilmHole& b) { return a.first < b.first; });
    return holes;
}

} // namespace ropeline
