// The season that the start page makes: what is asked for, and what is wrong with what was typed, field by field.
#pragma once

#include <filesystem>
#include <string>

namespace ropeline {

struct NewSeasonForm {
    std::string season = "My season", league, goalie, team, opponent, date, film, path;
    bool path_typed = false; ///< until then the path follows the season's name
    int rules = 0, level = 2;
};

/// What is wrong at each field; empty where nothing is.
struct FormTrouble {
    std::string season, league, goalie, team, opponent, date, film, path;
    bool any() const { return *this != FormTrouble{}; }
    friend bool operator==(const FormTrouble&, const FormTrouble&) = default;
};

/// What can be told without a disk.
FormTrouble trouble_in(const NewSeasonForm& form);
/// Is the film there, can the season be kept where it is to go? Asks the disk.
FormTrouble trouble_on_disk(const NewSeasonForm& form);

/// The season's file and its film as the file system wants them.
std::filesystem::path new_season_path(const NewSeasonForm& form);
std::filesystem::path new_film_path(const NewSeasonForm& form); ///< empty: none

} // namespace ropeline
