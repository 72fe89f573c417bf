// A season to learn on, around a rendered film, with an invented goalie and the guide beside it.
#include "desk/app.h"

#include "season/dates.h"

#include <utility>

namespace ropeline {

void start_guide(App& app) {
    refresh_season(app.season, app.log.book->file());
    app.guide = begin_guide(app.log.state(), app.season.answers.size());
    app.side = Side::log;
}

void begin_practice(App& app) {
    StartPage& first = app.start;
    if (!first.make_practice_film || first.practice) return;
    first.trouble.clear();
    first.practice = std::make_unique<PracticeFilm>(suggested_season_path("Practice").replace_extension(),
                                                    first.make_practice_film);
}

bool await_practice(App& app) {
    StartPage& first = app.start;
    if (!first.practice) return false;
    // Drawn again only when there is news: the film needs the processor more.
    if (!first.practice->done())
        return std::exchange(first.practice_shown, first.practice->per_cent()) != first.practice->per_cent();
    const std::filesystem::path folder = first.practice->folder();
    const std::string error = first.practice->error();
    first.practice.reset();
    if (!error.empty()) {
        first.trouble = error;
        return true;
    }
    const std::filesystem::path season = folder / "practice.season";
    if (std::filesystem::exists(season)) {
        drop_file(app, season.string());
        app.pages.start = false;
    } else {
        NewSeasonForm form;
        form.season = "Practice";
        form.goalie = "Ilse Varga";
        form.team = "Harbour Pike";
        form.opponent = "Mill Town Otters";
        form.film = (folder / "end_zone.mp4").string();
        form.date = today();
        form.path = season.string();
        create_season(app, form);
        first.trouble = std::exchange(first.field_trouble, {}).path;
    }
    if (app.log.book) start_guide(app);
    return true;
}

} // namespace ropeline
