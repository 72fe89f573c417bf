// A season to learn on: a rendered film, an invented goalie, and the guide beside it.
#include "desk/app.h"

#include <exception>
#include <utility>

namespace ropeline {

void start_guide(App& app) {
    app.guide = begin_guide(app.book->state(), app.book->file().answers().size());
    app.side = Side::log;
}

void begin_practice(App& app) {
    if (!app.make_practice_film || app.practice) return;
    app.trouble.clear();
    app.practice = std::make_unique<Practice>();
    Practice& practice = *app.practice;
    practice.folder = suggested_season_path("Practice").replace_extension();
    practice.thread = std::jthread([&practice, make = app.make_practice_film] {
        try {
            if (!std::filesystem::exists(practice.folder / "end_zone.mp4")) {
                make(practice.folder, [&practice](int per_cent) { practice.per_cent = per_cent; });
            }
        } catch (const std::exception& failure) {
            practice.error = failure.what();
        }
        practice.done = true;
    });
}

bool await_practice(App& app) {
    if (!app.practice) return false;
    // Drawn again only when there is news: the film needs the processor more.
    if (!app.practice->done)
        return std::exchange(app.practice->shown, app.practice->per_cent.load()) != app.practice->per_cent;
    const std::filesystem::path folder = app.practice->folder;
    const std::string error = app.practice->error;
    app.practice.reset();
    if (!error.empty()) {
        app.trouble = error;
        return true;
    }
    const std::filesystem::path season = folder / "practice.season";
    if (std::filesystem::exists(season)) {
        drop_file(app, season.string());
    } else {
        FirstRunForm& form = app.first_run;
        form.season = "Practice";
        form.goalie = "Ilse Varga";
        form.team = "Harbour Pike";
        form.opponent = "Mill Town Otters";
        form.film = (folder / "end_zone.mp4").string();
        form.path = season.string();
        create_season(app);
    }
    if (app.book) start_guide(app);
    return true;
}

} // namespace ropeline
