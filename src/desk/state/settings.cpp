#include "desk/state/settings.h"

#include "desk/state/folders.h"
#include "season/whole_file.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <fstream>

namespace ropeline {

namespace {

constexpr std::array<std::string_view, 3> length_words{"metres", "feet", "skate lengths"};
constexpr std::array<std::string_view, 3> side_words{"log", "study", "season"};

/// The first where it is none of them.
template <std::size_t count>
std::size_t place_in(const std::array<std::string_view, count>& words, const std::string& word) {
    const auto found = std::ranges::find(words, word);
    return found == words.end() ? 0 : static_cast<std::size_t>(found - words.begin());
}

nlohmann::json json_of(const RecentSeason& one) {
    return {{"path", one.path.string()},
            {"name", one.name},
            {"day", one.day},
            {"game", one.left.game_id},
            {"film", one.left.film_id},
            {"frame", one.left.frame},
            {"side", side_words.at(static_cast<std::size_t>(one.left.side))}};
}

std::vector<RecentSeason> recent_in(const nlohmann::json& json) {
    std::vector<RecentSeason> all;
    for (const auto& one : json.value("recent", nlohmann::json::array())) {
        if (!one.is_object() || all.size() == most_recent) continue;
        RecentSeason season{one.value("path", std::string{}), one.value("name", std::string{}),
                            one.value("day", std::string{})};
        season.left = {one.value("game", std::string{}), one.value("film", std::string{}),
                       one.value("frame", std::int64_t{0}),
                       static_cast<Side>(place_in(side_words, one.value("side", std::string{})))};
        if (!season.path.empty()) all.push_back(std::move(season));
    }
    return all;
}

} // namespace

RecentSeason* recent_season(Settings& settings, const std::filesystem::path& season) {
    const auto found = std::ranges::find(settings.recent, season, &RecentSeason::path);
    return found == settings.recent.end() ? nullptr : &*found;
}

void note_recent(Settings& settings, const std::filesystem::path& season, const std::string& name,
                 const std::string& day) {
    RecentSeason first{season, name, day};
    if (const RecentSeason* known = recent_season(settings, season)) first.left = known->left;
    std::erase_if(settings.recent, [&](const RecentSeason& one) { return one.path == season; });
    settings.recent.insert(settings.recent.begin(), std::move(first));
    if (settings.recent.size() > most_recent) settings.recent.resize(most_recent);
}

std::string_view label_of(LengthUnit unit) {
    return length_words.at(static_cast<std::size_t>(unit));
}

std::filesystem::path settings_path() {
    const char* set = std::getenv("XDG_CONFIG_HOME");
    const std::filesystem::path base = set && *set ? std::filesystem::path(set) : home_folder() / ".config";
    return base / "ropeline" / "settings.json";
}

Settings load_settings(const std::filesystem::path& path) {
    Settings settings;
    std::ifstream file(path);
    const auto json = nlohmann::json::parse(file, nullptr, false);
    if (!json.is_object()) return settings;
    try {
        settings.last_season = json.value("last_season", std::string{});
        settings.opened_well = json.value("opened_well", true);
        settings.text_px = std::clamp(json.value("text_px", settings.text_px), 11.0F, 48.0F);
        settings.dark = json.value("dark", settings.dark);
        settings.motion = json.value("motion", settings.motion);
        settings.lengths =
            static_cast<LengthUnit>(place_in(length_words, json.value("lengths", std::string{})));
        settings.answers_as = json.value("answers_as", std::string{});
        settings.stops_before_s = std::clamp(json.value("stops_before_s", settings.stops_before_s), 0.0, 0.3);
        settings.ask_how_sure = json.value("ask_how_sure", settings.ask_how_sure);
        settings.window_width = std::clamp(json.value("window_width", settings.window_width), 640, 16384);
        settings.window_height = std::clamp(json.value("window_height", settings.window_height), 480, 16384);
        if (json.contains("window_x") && json.contains("window_y"))
            settings.window_at = {json.value("window_x", 0), json.value("window_y", 0)};
        settings.maximized = json.value("maximized", false);
        settings.full_screen = json.value("full_screen", false);
        settings.recent = recent_in(json);
    } catch (const nlohmann::json::exception&) {
        return Settings{};
    }
    return settings;
}

Settings first_settings(double dots_per_inch, int width_px, int height_px) {
    Settings settings;
    // Displays are known to lie about their size: never so large that fewer than 54 lines of text fit.
    const double most = std::max(1.0, std::floor(4.0 * height_px / (54.0 * settings.text_px)) / 4.0);
    const double scale = std::clamp(std::round(4.0 * dots_per_inch / 96.0) / 4.0, 1.0, most);
    settings.text_px = static_cast<float>(scale * settings.text_px);
    const auto fitted = [scale](int usual, int room) {
        return static_cast<int>(std::min(scale * usual, std::max<double>(room, 640.0)));
    };
    settings.window_width = fitted(settings.window_width, width_px);
    settings.window_height = fitted(settings.window_height, height_px);
    return settings;
}

bool save_settings(const std::filesystem::path& path, const Settings& settings) {
    nlohmann::json recent = nlohmann::json::array();
    for (const RecentSeason& one : settings.recent)
        recent.push_back(json_of(one));
    nlohmann::json json{{"last_season", settings.last_season.string()},
                        {"opened_well", settings.opened_well},
                        {"text_px", settings.text_px},
                        {"dark", settings.dark},
                        {"motion", settings.motion},
                        {"lengths", label_of(settings.lengths)},
                        {"answers_as", settings.answers_as},
                        {"stops_before_s", settings.stops_before_s},
                        {"ask_how_sure", settings.ask_how_sure},
                        {"window_width", settings.window_width},
                        {"window_height", settings.window_height},
                        {"maximized", settings.maximized},
                        {"full_screen", settings.full_screen},
                        {"recent", recent}};
    if (settings.window_at) {
        json["window_x"] = settings.window_at->x;
        json["window_y"] = settings.window_at->y;
    }
    try {
        write_whole_file(path, json.dump(2) + '\n');
        return true;
    } catch (const UnwritableFile&) {
        return false;
    }
}

std::filesystem::path suggested_season_path(const std::string& season_name) {
    std::string file;
    for (const char letter : season_name) {
        const auto byte = static_cast<unsigned char>(letter);
        const bool plain =
            byte >= 0x80 || std::isalnum(byte) != 0 || letter == '-' || letter == '_' || letter == ' ';
        file += plain ? letter : '-';
    }
    while (!file.empty() && file.back() == ' ')
        file.pop_back();
    if (file.empty()) file = "my season";
    return home_folder() / "Ropeline" / (file + ".season");
}

} // namespace ropeline
