#include "film/film_skim.h"

#include <algorithm>
#include <iterator>
#include <limits>
#include <utility>

#include "film/decoding.h"
#include "film/film_error.h"
#include "film/film_opening.h"

namespace ropeline {

namespace {

/// Frames at which decoding may begin.
std::vector<std::int64_t> entries_of(const FilmIndex& index) {
    std::vector<std::int64_t> entries;
    for (std::int64_t frame = 0; frame < index.frames(); ++frame) {
        const auto i = static_cast<std::size_t>(frame);
        if (index.entry_of_frame[i] == index.packet_of_frame[i]) entries.push_back(frame);
    }
    return entries;
}

/// Pixels that a second of film takes to decode, without the pictures that no other leans on.
double px_a_second(const FilmIndex& index, const FilmFacts& facts, double length_s) {
    const auto needed =
        std::ranges::count_if(index.packets, [](const PacketNote& one) { return !one.disposable; });
    return static_cast<double>(needed) * facts.width_px * facts.height_px / std::max(1.0, length_s);
}

} // namespace

struct FilmSkim::Insides {
    OpenFilm film;
    FrameTable table;
    std::vector<std::int64_t> entries;
    double step_s = 0.0;
    double seen_share = 1.0; ///< of each sequence, from its beginning
    bool hops = false;       ///< from one entry to another: they lie no farther apart than the steps
    std::optional<Decoding> decoding;
    std::optional<Seen> seen;
    double wanted_s = 0.0;
    std::int64_t begun = -1; ///< frame that decoding last began at
    bool ended = false;

    void begin_at(std::int64_t frame) {
        const FrameIndex last{table.count() - 1}; // before it whatever no picture leans on is left out
        decoding->begin_at(film.index->packet_of_frame[static_cast<std::size_t>(frame)], last);
        begun = frame;
    }
    /// The last entry at or before a time.
    std::int64_t entry_before(double seconds) const {
        const std::int64_t frame = number(table.shown_at(seconds));
        const auto after = std::ranges::upper_bound(entries, frame);
        return after == entries.begin() ? 0 : *std::prev(after);
    }
    std::int64_t entry_after(std::int64_t frame) const {
        const auto after = std::ranges::upper_bound(entries, frame);
        return after == entries.end() ? -1 : *after;
    }
    /// The first picture of this time or later that comes out.
    void decode_to(double least_s) {
        const auto sink = [&](FrameIndex frame, PicturePtr picture) {
            if (!seen && table.seconds_of(frame) >= least_s) seen = Seen{frame, std::move(picture)};
        };
        while (!seen && decoding->step(sink)) {
        }
        ended = !seen;
    }
    /// Decodes on to the wanted time, or to the next sequence where enough of this one was seen.
    void decode_on() {
        const std::int64_t entry = entry_before(wanted_s), next = entry_after(entry);
        if (seen_share < 1.0 && next >= 0) {
            const double from_s = table.seconds_of(FrameIndex{entry}),
                         to_s = table.seconds_of(FrameIndex{next});
            if (wanted_s > from_s + seen_share * (to_s - from_s)) {
                wanted_s = to_s;
                begin_at(next);
            }
        }
        decode_to(wanted_s - 1e-6);
    }
    /// To the last entry up to the wanted time, and its picture alone.
    void hop() {
        std::int64_t entry = entry_before(wanted_s + 1e-6);
        if (entry <= begun) entry = entry_after(begun);
        ended = entry < 0;
        if (ended) return;
        begin_at(entry);
        decode_to(-std::numeric_limits<double>::infinity());
    }
};

FilmSkim::FilmSkim(const std::string& path, std::vector<std::byte> kept_index, double step_s, double most_px)
    : insides_(std::make_unique<Insides>()) {
    Insides& my = *insides_;
    Source source(path);
    my.film = open_film(source, facts_of(source), kept_index);
    my.table = FrameTable(my.film.index->pts, my.film.index->time_base);
    my.entries = entries_of(*my.film.index);
    my.step_s = step_s;
    const double length_s =
        my.table.seconds_of(FrameIndex{my.table.count() - 1}) - my.table.seconds_of(FrameIndex{0});
    my.hops = length_s <= step_s * static_cast<double>(my.entries.size());
    my.seen_share = most_px / std::max(most_px, px_a_second(*my.film.index, my.film.facts, length_s));
    my.decoding.emplace(std::move(source), my.film.index, my.hops ? 1 : 0);
    go_to(my.table.seconds_of(FrameIndex{0}));
}

FilmSkim::~FilmSkim() = default;
FilmSkim::FilmSkim(FilmSkim&&) noexcept = default;
FilmSkim& FilmSkim::operator=(FilmSkim&&) noexcept = default;

const FilmFacts& FilmSkim::facts() const {
    return insides_->film.facts;
}

const FrameTable& FilmSkim::frames() const {
    return insides_->table;
}

std::int64_t FilmSkim::decoded() const {
    return insides_->decoding->decoded();
}

void FilmSkim::go_to(double seconds) {
    Insides& my = *insides_;
    my.wanted_s = seconds;
    my.ended = false;
    const std::int64_t entry = my.entry_before(seconds);
    my.begun = my.hops ? entry - 1 : entry;
    if (!my.hops) my.begin_at(entry);
}

std::optional<FilmSkim::Seen> FilmSkim::next() {
    Insides& my = *insides_;
    my.seen.reset();
    while (!my.seen && !my.ended) {
        try {
            my.hops ? my.hop() : my.decode_on();
        } catch (const FilmError&) { // this place cannot be read: on from the next one that can
            const std::int64_t entry = my.entry_after(std::max(my.begun, my.entry_before(my.wanted_s)));
            my.ended = entry < 0;
            if (!my.ended) go_to(my.table.seconds_of(FrameIndex{entry}));
        }
    }
    if (my.seen) my.wanted_s = my.table.seconds_of(my.seen->frame) + my.step_s;
    return std::exchange(my.seen, std::nullopt);
}

} // namespace ropeline
