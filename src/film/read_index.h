// One pass over a film's packets. Only for src/film.
#pragma once

#include <functional>
#include <stop_token>

#include "film/film_index.h"
#include "film/source.h"

namespace ropeline {

/// One pass over all packets. `progress` gets bytes read; a stop request ends it early with what was read.
FilmIndex read_index(Source& source, const std::function<void(std::int64_t)>& progress = {},
                     std::stop_token stop = {});

} // namespace ropeline
