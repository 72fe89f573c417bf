#include "desk/state/settings.h"

#include <doctest/doctest.h>

#include <fstream>

using namespace ropeline;

TEST_CASE("settings survive a round trip, and a broken file means the defaults") {
    const auto folder = std::filesystem::temp_directory_path() / "ropeline-settings-test";
    std::filesystem::remove_all(folder);
    const auto path = folder / "deep" / "settings.json";
    Settings settings;
    settings.last_season = "/films/it's a \"season\".season";
    settings.text_px = 20.0F;
    settings.dark = false;
    REQUIRE(save_settings(path, settings));
    const Settings back = load_settings(path);
    CHECK(back.last_season == settings.last_season);
    CHECK(back.text_px == 20.0F);
    CHECK_FALSE(back.dark);

    std::ofstream(path) << "{\"text_px\": \"large\"";
    CHECK(load_settings(path).text_px == Settings{}.text_px);
    std::ofstream(path) << "{\"text_px\": \"large\"}";
    CHECK(load_settings(path).dark == Settings{}.dark);
    std::ofstream(path) << "{\"text_px\": 4000}";
    CHECK(load_settings(path).text_px == 48.0F);
    CHECK(load_settings(folder / "none.json").window_width == Settings{}.window_width);
    CHECK_FALSE(save_settings("/proc/none/settings.json", settings));
    std::filesystem::remove_all(folder);
}

TEST_CASE("a season's name makes a file name that any file system takes") {
    CHECK(suggested_season_path("U14 2026/27").filename() == "U14 2026-27.season");
    CHECK(suggested_season_path("a\"b<c>:d").filename() == "a-b-c--d.season");
    CHECK(suggested_season_path("   ").filename() == "my season.season");
    CHECK(suggested_season_path("Größe").filename() == "Größe.season");
}
