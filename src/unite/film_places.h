// Inside src/unite: where the films of two seasons lie, told from the folder of the season they make.
#pragma once

#include "unite/stands_for.h"

#include <filesystem>
#include <map>
#include <string>

namespace ropeline {

class FilmPlaces {
public:
    void add(const Id& film_id, std::string path, bool is_there) {
        places_[film_id] = {std::move(path), is_there};
    }
    /// `otherwise` for a film that is not known.
    std::string path_of(const Id& film_id, const std::string& otherwise) const;
    /// Of a film that is not where this says, where the other found it.
    FilmPlaces or_where_found(const FilmPlaces& other) const;

private:
    struct Place {
        std::string path;
        bool is_there = false;
    };
    std::map<Id, Place> places_;
};

FilmPlaces film_places(SQLite::Database& db, const std::filesystem::path& season, const StandsFor& stands_for,
                       const std::filesystem::path& home);

} // namespace ropeline
