// Everything known of a film once it is open: facts, index, and what is missing. Only for src/film.
#pragma once

#include <functional>
#include <memory>
#include <set>
#include <span>
#include <stop_token>

#include "film/film_facts.h"
#include "film/kept_index.h"
#include "film/picture.h"

namespace ropeline {

struct OpenFilm {
    FilmFacts facts;
    std::shared_ptr<const FilmIndex> index;
    std::vector<FilmHole> holes;
};

/// The picture that is shown first, decoded from a source just opened and left at its first packet; null when
/// none comes.
PicturePtr first_picture_of(Source& source);

/// Takes the kept index when it fits, else reads the film through. Throws FilmError when no frame can be
/// shown.
OpenFilm open_film(Source& source, const FilmFacts& facts, std::span<const std::byte> kept,
                   const std::function<void(std::int64_t)>& progress = {}, const std::stop_token& stop = {});

/// The holes known from opening, and those met in decoding, in the order of the film.
std::vector<FilmHole> holes_with(std::vector<FilmHole> holes, const std::set<std::int64_t>& undecodable);

} // namespace ropeline
