// What the desk remembers between runs besides the season: recent seasons and where each was left, the window, the
// look.
#pragma once

#include "depth/reason.h"
#include "desk/side.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

/// Where a season was left, so that it opens there again. Empty ids: nothing was open.
struct LeftAt {
    std::string game_id, film_id;
    std::int64_t frame = 0;
    Side side = Side::log;
    friend bool operator==(const LeftAt&, const LeftAt&) = default;
};
struct RecentSeason {
    std::filesystem::path path;
    std::string name, day; ///< it was last opened: "2026-11-25"
    LeftAt left{};
};
/// A place on the displays, in pixels.
struct WindowPlace {
    int x = 0, y = 0;
    friend bool operator==(const WindowPlace&, const WindowPlace&) = default;
};

struct Settings {
    std::filesystem::path last_season;
    std::vector<RecentSeason> recent; ///< the latest first
    bool opened_well = true; ///< the desk got as far as showing it; else it is not opened again by itself
    float text_px = 16.0F;
    bool dark = true;
    bool motion = true;                      ///< the picture moves in on a play; else it jumps
    LengthUnit lengths = LengthUnit::metres; ///< all that is long is said in
    std::string answers_as;                  ///< who answers in Study; empty: not said yet
    /// In Study the film stops so long before pass or release, 0 to 0.3 s.
    /// Source  Kruisselbrink et al., ACSM 2008: what a goalie needs ends just after stick meets puck; film cut up to 133 ms before
    ///         the release is what such studies used. A tenth of a second lies in between, and the handout has it too.
    double stops_before_s = 0.1;
    bool ask_how_sure = false; ///< of the call, in Study
    int window_width = 1440, window_height = 860;
    std::optional<WindowPlace> window_at; ///< none: in the middle
    bool maximized = false, full_screen = false;
};

constexpr std::size_t most_recent = 9; ///< as many as there are number keys
/// Puts the season first among the recent ones; where it was known, where it was left stays.
void note_recent(Settings& settings, const std::filesystem::path& season, const std::string& name,
                 const std::string& day);
/// Null when it is not among them.
RecentSeason* recent_season(Settings& settings, const std::filesystem::path& season);

/// Where the settings live: $XDG_CONFIG_HOME/ropeline/settings.json, else under ~/.config.
std::filesystem::path settings_path();
/// Missing or unreadable settings are the defaults.
Settings load_settings(const std::filesystem::path& path);

/// Settings for the first run on a display: text as tall to the eye as 16 px at 96 dots an inch, in quarter
/// steps, the window in proportion and inside the display.
/// In      dots an inch (0: unknown) and the size of the display less its bars, in pixels
Settings first_settings(double dots_per_inch, int width_px, int height_px);
/// Best effort: the desk works without settings. False when they could not be written.
bool save_settings(const std::filesystem::path& path, const Settings& settings);

/// "metres", "feet", "skate lengths"
std::string_view label_of(LengthUnit unit);

/// Where a new season file goes unless the coach says otherwise: ~/Ropeline/<name>.season.
std::filesystem::path suggested_season_path(const std::string& season_name);

} // namespace ropeline
