// A film's index as bytes, so that a film need not be read through again each time it is opened. Only for
// src/film.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "film/film_facts.h"
#include "film/source.h"

namespace ropeline {

/// With the library version, the film's fingerprint and the stream's time base inside.
std::vector<std::byte> pack(const FilmIndex& index, const Source& source, const std::string& fingerprint);

/// Nothing when the bytes are for another film, another library version or damaged: then the film is read
/// anew.
std::optional<FilmIndex> unpack(std::span<const std::byte> bytes, const Source& source,
                                const std::string& fingerprint);

} // namespace ropeline
