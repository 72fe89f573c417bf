#include "desk/state/new_season.h"

#include "desk/state/folders.h"
#include "season/dates.h"
#include "season/trimmed.h"

#include <string_view>
#include <unistd.h>

namespace ropeline {

namespace {

constexpr std::size_t longest_name = 500; // what the season file keeps

std::string name_trouble(std::string_view typed, const char* missing = "") {
    const std::string_view name = trimmed(typed);
    if (name.empty()) return missing;
    return name.size() > longest_name ? "This is longer than 500 letters: write it shorter." : "";
}

std::string film_trouble(const std::filesystem::path& film) {
    std::error_code failed;
    if (std::filesystem::is_regular_file(film, failed)) return {};
    if (std::filesystem::is_directory(film, failed)) return "This is a folder: choose the film in it.";
    return "There is no such file. Choose it, drop it here, or leave the field empty for now.";
}

/// The nearest folder above that is there already.
std::filesystem::path folder_there(std::filesystem::path folder) {
    std::error_code failed;
    while (!std::filesystem::exists(folder, failed) && folder.has_relative_path())
        folder = folder.parent_path();
    return folder;
}

std::string place_trouble(const std::filesystem::path& season) {
    std::error_code failed;
    if (std::filesystem::exists(season, failed))
        return "There is a season of that name already: open it at the left, or write another name here.";
    const auto folder = folder_there(std::filesystem::absolute(season, failed).parent_path());
    if (!std::filesystem::is_directory(folder, failed))
        return shown_place(folder) + " is no folder: choose another place.";
    if (access(folder.c_str(), W_OK) != 0)
        return "Nothing can be written in " + shown_place(folder) + ": choose another place.";
    return {};
}

} // namespace

FormTrouble trouble_in(const NewSeasonForm& form) {
    FormTrouble trouble;
    trouble.season = name_trouble(form.season, "Name the season, as \"U16 2026-27\".");
    trouble.goalie = name_trouble(form.goalie, "Who is in net? Others can be added later.");
    trouble.league = name_trouble(form.league);
    trouble.team = name_trouble(form.team);
    trouble.opponent = name_trouble(form.opponent);
    const std::string_view team = trimmed(form.team);
    if (!team.empty() && team == trimmed(form.opponent))
        trouble.team = "Both teams have the same name: write the opponent's.";
    if (!is_day(trimmed(form.date))) trouble.date = "The date is written as year-month-day: 2026-11-25.";
    const std::string_view path = trimmed(form.path);
    if (path.empty()) trouble.path = "Say where the season's file goes.";
    if (path.ends_with('/')) trouble.path = "Write a name for the season's file behind its folder.";
    return trouble;
}

FormTrouble trouble_on_disk(const NewSeasonForm& form) {
    FormTrouble trouble;
    if (const auto film = new_film_path(form); !film.empty()) trouble.film = film_trouble(film);
    trouble.path = place_trouble(new_season_path(form));
    return trouble;
}

std::filesystem::path new_season_path(const NewSeasonForm& form) {
    std::filesystem::path path = spelled_out(form.path);
    if (path.extension() != ".season") path += ".season";
    return path;
}

std::filesystem::path new_film_path(const NewSeasonForm& form) {
    return spelled_out(form.film);
}

} // namespace ropeline
