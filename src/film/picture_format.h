// What libswscale has to be told of a picture. Only for src/film.
#pragma once

#include "film/av.h"
#include "film/film_facts.h"
#include "film/picture.h"

namespace ropeline {

/// Throws  FilmError::not_film for a format that cannot be converted.
AVPixelFormat format_of(const Picture& picture);
/// The library's number of it (SWS_CS_...).
int space_of(ColourMatrix matrix);

} // namespace ropeline
