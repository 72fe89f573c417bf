// A home of its own for a desk without a window, so that the settings of whoever runs the tests stay as they are.
#pragma once

#include "desk/app.h"
#include "desk/made_book.h"

#include <chrono>
#include <cstdlib>
#include <thread>

namespace ropeline::test {

struct Home {
    Folder folder;
    std::filesystem::path season = folder.path / "one.season";
    Home() {
        setenv("XDG_CONFIG_HOME", folder.path.c_str(), 1);
        setenv("HOME", folder.path.c_str(), 1);
    }
};
/// With a season in it, with a game, a goalie and a film that is not there.
struct HomeWithSeason : Home {
    HomeWithSeason() { begun(season); }
};

/// Turns until nothing is awaited: the film is there, or it is told that it is not.
inline void await_all(App& app) {
    while (update(app))
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
}

inline Settings stored_settings() {
    return load_settings(settings_path());
}

} // namespace ropeline::test
