#include "desk/state/settings.h"

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

std::filesystem::path home() {
    const char* set = std::getenv("HOME");
    return set && *set ? std::filesystem::path(set) : std::filesystem::current_path();
}

} // namespace

std::string_view label_of(LengthUnit unit) {
    return length_words.at(static_cast<std::size_t>(unit));
}

std::filesystem::path settings_path() {
    const char* set = std::getenv("XDG_CONFIG_HOME");
    const std::filesystem::path base = set && *set ? std::filesystem::path(set) : home() / ".config";
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
        const auto lengths = std::ranges::find(length_words, json.value("lengths", std::string{}));
        if (lengths != length_words.end())
            settings.lengths = static_cast<LengthUnit>(lengths - length_words.begin());
        settings.answers_as = json.value("answers_as", std::string{});
        settings.stops_before_s = std::clamp(json.value("stops_before_s", settings.stops_before_s), 0.0, 0.3);
        settings.ask_how_sure = json.value("ask_how_sure", settings.ask_how_sure);
        settings.window_width = std::clamp(json.value("window_width", settings.window_width), 640, 16384);
        settings.window_height = std::clamp(json.value("window_height", settings.window_height), 480, 16384);
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
    const nlohmann::json json{{"last_season", settings.last_season.string()},
                              {"opened_well", settings.opened_well},
                              {"text_px", settings.text_px},
                              {"dark", settings.dark},
                              {"motion", settings.motion},
                              {"lengths", label_of(settings.lengths)},
                              {"answers_as", settings.answers_as},
                              {"stops_before_s", settings.stops_before_s},
                              {"ask_how_sure", settings.ask_how_sure},
                              {"window_width", settings.window_width},
                              {"window_height", settings.window_height}};
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
    return home() / "Ropeline" / (file + ".season");
}

} // namespace ropeline
