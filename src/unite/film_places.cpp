#include "unite/film_places.h"

#include <SQLiteCpp/Statement.h>

namespace ropeline {

std::string FilmPlaces::path_of(const Id& film_id, const std::string& otherwise) const {
    const auto found = places_.find(film_id);
    return found == places_.end() ? otherwise : found->second.path;
}

FilmPlaces FilmPlaces::or_where_found(const FilmPlaces& other) const {
    FilmPlaces places = *this;
    for (auto& [id, place] : places.places_) {
        const auto elsewhere = other.places_.find(id);
        if (!place.is_there && elsewhere != other.places_.end() && elsewhere->second.is_there)
            place = elsewhere->second;
    }
    return places;
}

FilmPlaces film_places(SQLite::Database& db, const std::filesystem::path& season, const StandsFor& stands_for,
                       const std::filesystem::path& home) {
    FilmPlaces places;
    const auto folder = season.parent_path();
    SQLite::Statement film{db, "SELECT id, path FROM film"};
    while (film.executeStep()) {
        std::string path = film.getColumn(1).getString();
        const auto file = (folder / path).lexically_normal();
        std::error_code unreachable;
        const bool is_there = std::filesystem::exists(file, unreachable);
        if (folder != home) {
            const auto inside = file.lexically_relative(home);
            path = inside.empty() || *inside.begin() == ".." ? file.string() : inside.string();
        }
        places.add(stands_for.of(film.getColumn(0).getString()), path, is_there);
    }
    return places;
}

} // namespace ropeline
