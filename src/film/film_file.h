// A film's file, opened as a film and as nothing else. Only for src/film.
#pragma once

#include <string>

#include "film/av.h"

namespace ropeline {

/// The file opened by libav, its streams not looked at yet. Play lists, manifests, patterns of still pictures and
/// whatever else would open further files are refused before anything in them is followed.
/// Throws FilmError with one line a coach can act on.
av::Input open_film_file(const std::string& path);

/// The line that says so.
std::string not_a_film(const std::string& path);

} // namespace ropeline
