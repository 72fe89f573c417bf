#include "film/film_reader.h"

#include <algorithm>
#include <cstdlib>
#include <set>

#include "film/fetching.h"
#include "film/film_error.h"
#include "film/film_opening.h"
#include "film/picture_cache.h"

namespace ropeline {

namespace {

Travel travelled(std::int64_t from, std::int64_t to) {
    constexpr std::int64_t furthest_step = 8; // beyond this it is a jump
    if (from < 0 || std::abs(to - from) > furthest_step) return Travel::jump;
    return to < from ? Travel::backward : Travel::forward;
}

} // namespace

struct FilmReader::Insides {
    OpenFilm film;
    FrameTable table;
    PictureCache cache;
    std::unique_ptr<Fetcher> fetcher;
    std::set<std::int64_t> missing;
    std::int64_t last = -1;
    bool only_forward = true; ///< nobody has gone back or jumped yet

    explicit Insides(const FilmOptions& options) : cache(options.cache_bytes) {}
};

FilmReader::FilmReader(const std::string& path, const FilmOptions& options)
    : insides_(std::make_unique<Insides>(options)) {
    Insides& my = *insides_;
    Source source(path, options.stream);
    my.film = open_film(source, facts_of(source), options.kept_index);
    my.table = FrameTable(my.film.index->pts, my.film.index->time_base);
    my.fetcher = std::make_unique<Fetcher>(Decoding(std::move(source), my.film.index, options.threads),
                                           my.film.index, my.cache);
}

FilmReader::~FilmReader() = default;
FilmReader::FilmReader(FilmReader&&) noexcept = default;
FilmReader& FilmReader::operator=(FilmReader&&) noexcept = default;

const FilmFacts& FilmReader::facts() const {
    return insides_->film.facts;
}

const FrameTable& FilmReader::frames() const {
    return insides_->table;
}

PicturePtr FilmReader::picture(FrameIndex frame) {
    Insides& my = *insides_;
    if (number(frame) < 0 || number(frame) >= my.table.count()) {
        throw std::out_of_range("frame " + std::to_string(number(frame)) +
                                " is outside the film: it has frames 0 to " +
                                std::to_string(my.table.count() - 1));
    }
    const Travel travel = travelled(my.last, number(frame));
    my.only_forward = my.only_forward && (my.last < 0 || travel == Travel::forward);
    my.last = number(frame);
    // A film read through once is not kept: fresh memory costs more time than anything but the decoding.
    constexpr std::int64_t kept_behind = 16;
    if (my.only_forward) my.cache.let_go_before(FrameIndex{number(frame) - kept_behind});
    my.cache.look_from(frame, travel == Travel::backward ? -1 : 1);
    if (!my.missing.contains(number(frame)) && my.fetcher->fetch(frame, frame, travel) == Fetched::found) {
        return my.cache.find(frame);
    }
    my.missing.insert(number(frame));
    throw FilmError(FilmFault::damaged, my.film.facts.path + " is damaged at frame " +
                                            std::to_string(number(frame)) +
                                            ": the picture cannot be decoded");
}

FrameIndex FilmReader::begins_at(FrameIndex frame) const {
    const FilmIndex& index = *insides_->film.index;
    const auto entry = static_cast<std::size_t>(
        index.entry_of_frame[static_cast<std::size_t>(number(insides_->table.clamp(number(frame))))]);
    return FrameIndex{std::max<std::int64_t>(0, index.frame_of_packet[entry])};
}

std::vector<FilmHole> FilmReader::holes() const {
    return holes_with(insides_->film.holes, insides_->missing);
}

std::vector<std::byte> FilmReader::index_to_keep() const {
    const OpenFilm& film = insides_->film;
    return pack(*film.index, insides_->fetcher->decoding().source(), film.facts.fingerprint);
}

std::int64_t FilmReader::decoded() const {
    return insides_->fetcher->decoded();
}

} // namespace ropeline
