#include <set>

#include "film/fetching.h"
#include "film/film_opening.h"
#include "film/picture_cache.h"

namespace ropeline {

struct FilmReader::Insides {
    OpenFilm film;
    FrameTable table;
    std::unique_ptr<Decoding> decoding;
    PictureCache cache;
    std::set<std::int64_t> missing;
    std::int64_t last = -1;

    explicit Insides(const FilmOptions& options) : cache(options.cache_bytes) {}
};

FilmReader::FilmReader(const std::string& path, const FilmOptions& options)
    : insides_(std::make_unique<Insides>(options)) {
    Insides& my = *insides_;
    Source source(path, options.stream);
    my.film = open_film(source, facts_of(source), options.kept_index);
    my.table = FrameTable(my.film.index->pts, my.film.index->time_base);
    my.decoding = std::make_unique<Decoding>(std::move(source), my.film.index, options.threads);
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
    const std::int64_t travelled = my.last < 0 ? 1 : number(frame) - my.last;
    const bool backward = travelled < 0;
    my.last = number(frame);
    my.cache.look_from(frame, backward ? -1 : 1);
    if (PicturePtr kept = my.cache.find(frame)) return kept;
    PicturePtr result;
    const auto sink = [&](FrameIndex out, PicturePtr picture) {
        if (out == frame) result = picture;
        my.cache.put(out, std::move(picture));
    };
    if (!my.missing.contains(number(frame)) &&
        fetch(*my.decoding, *my.film.index, frame, backward, sink) == Fetched::found) {
        return result;
    }
    my.missing.insert(number(frame));
    throw FilmError(FilmFault::damaged, my.film.facts.path + " is damaged at frame " +
                                            std::to_string(number(frame)) +
                                            ": the picture cannot be decoded");
}

std::vector<FilmHole> FilmReader::holes() const {
    return holes_with(insides_->film.holes, insides_->missing);
}

std::vector<std::byte> FilmReader::index_to_keep() const {
    const OpenFilm& film = insides_->film;
    return pack(*film.index, insides_->decoding->source(), film.facts.fingerprint);
}

} // namespace ropeline
