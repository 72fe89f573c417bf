// What goes wrong with a film, in one line a coach can act on.
#pragma once

#include <stdexcept>
#include <string>

#include "film/one_line.h"

namespace ropeline {

enum class FilmFault {
    not_found,
    is_directory,
    unreadable,
    empty,
    not_film,
    no_picture,
    damaged,
    cannot_write
};

struct FilmError : std::runtime_error {
    FilmError(FilmFault f, const std::string& what) : std::runtime_error(one_line(what)), fault(f) {}
    FilmFault fault;
};

} // namespace ropeline
