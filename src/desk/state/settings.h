// What the desk remembers between runs besides the season: the last season, text size, light or dark.
#pragma once

#include "depth/reason.h"

#include <filesystem>
#include <string>
#include <string_view>

namespace ropeline {

struct Settings {
    std::filesystem::path last_season;
    bool opened_well = true; ///< the desk got as far as showing it; else it is not opened again by itself
    float text_px = 16.0F;
    bool dark = true;
    bool motion = true;                      ///< the picture moves in on a play; else it jumps
    LengthUnit lengths = LengthUnit::metres; ///< verdicts are said in
    std::string answers_as;                  ///< who answers in Study; empty: not said yet
    /// In Study the film stops so long before pass or release, 0 to 0.3 s.
    /// Source  Kruisselbrink et al., ACSM 2008: what a goalie needs ends just after stick meets puck; film cut up to 133 ms before
    ///         the release is what such studies used. A tenth of a second lies in between, and the handout has it too.
    double stops_before_s = 0.1;
    bool ask_how_sure = false; ///< of the call, in Study
    int window_width = 1440, window_height = 860;
};

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
