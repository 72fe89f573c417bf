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
    settings.lengths = LengthUnit::skate_lengths;
    settings.window_at = WindowPlace{-20, 40};
    settings.full_screen = true;
    for (int season = 0; season < 12; ++season)
        note_recent(settings, "/films/" + std::to_string(season) + ".season", "U" + std::to_string(season),
                    "2026-11-25");
    settings.recent.front().left = {"game", "film", 371, Side::season};
    REQUIRE(save_settings(path, settings));
    const Settings back = load_settings(path);
    CHECK(back.last_season == settings.last_season);
    CHECK(back.text_px == 20.0F);
    CHECK(back.window_at == settings.window_at);
    CHECK(back.full_screen);
    REQUIRE(back.recent.size() == most_recent);
    CHECK(back.recent.front().name == "U11");
    CHECK(back.recent.front().left == settings.recent.front().left);
    CHECK_FALSE(back.dark);
    CHECK(back.lengths == LengthUnit::skate_lengths);

    std::ofstream(path) << "{\"text_px\": \"large\"";
    CHECK(load_settings(path).text_px == Settings{}.text_px);
    std::ofstream(path) << "{\"text_px\": \"large\"}";
    CHECK(load_settings(path).dark == Settings{}.dark);
    std::ofstream(path)
        << "{\"recent\": [7, {\"path\": \"\"}, {\"path\": \"/a.season\", \"side\": \"kitchen\"}]}";
    REQUIRE(load_settings(path).recent.size() == 1);
    CHECK(load_settings(path).recent[0].left.side == Side::log);
    std::ofstream(path) << "{\"lengths\": \"furlongs\"}";
    CHECK(load_settings(path).lengths == Settings{}.lengths);
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

TEST_CASE("the first run suits text and window to the display's density, and never past what fits") {
    const Settings usual;
    for (const double dots : {0.0, 72.0, 96.0, 105.0}) {
        const Settings plain = first_settings(dots, 1920, 1040);
        CHECK(plain.text_px == usual.text_px);
        CHECK(plain.window_width == usual.window_width);
        CHECK(plain.window_height == usual.window_height);
    }
    const Settings desktop = first_settings(163.0, 3840, 2100); // a 27-inch display of 3840 pixels
    CHECK(desktop.text_px == 28.0F);
    CHECK(desktop.window_width == 2520);
    CHECK(desktop.window_height == 1505);
    const Settings laptop = first_settings(166.0, 1920, 1040); // 13 inches: half a step larger would not fit
    CHECK(laptop.text_px == 16.0F);
    const Settings liar = first_settings(1000.0, 3840, 2100);
    CHECK(liar.text_px == 36.0F);
    CHECK(liar.window_width <= 3840);
    CHECK(first_settings(96.0, 1280, 700).window_height == 700);
    CHECK(first_settings(96.0, 0, 0).window_width == 640);
}

TEST_CASE("a season opened again goes first among the recent ones and keeps where it was left") {
    Settings settings;
    note_recent(settings, "/a.season", "A", "2026-11-24");
    recent_season(settings, "/a.season")->left = {"game", "film", 5, Side::log};
    note_recent(settings, "/b.season", "B", "2026-11-25");
    note_recent(settings, "/a.season", "A renamed", "2026-11-26");
    REQUIRE(settings.recent.size() == 2);
    CHECK(settings.recent[0].name == "A renamed");
    CHECK(settings.recent[0].left.frame == 5);
    CHECK(recent_season(settings, "/c.season") == nullptr);
}
