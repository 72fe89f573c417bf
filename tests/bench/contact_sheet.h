// A sheet of small pictures of a film with the rink drawn over them as it was carried.
#pragma once

#include "camera/carry.h"
#include "film/film_reader.h"

#include <filesystem>
#include <map>

namespace ropeline {

struct SheetFrame {
    CarriedFrame carried;
    double error_m = -1.0;
};

/// Twelve of the frames, evenly spread, as a PNG: the rink in green where it is held, yellow where unsure; lost frames
/// show none.
void write_contact_sheet(const std::filesystem::path& path, FilmReader& film,
                         const std::map<int, SheetFrame>& frames);

} // namespace ropeline
