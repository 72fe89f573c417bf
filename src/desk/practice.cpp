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
    StartPage& start = app.start;
    if (!start.make_practice_film || start.practice) return;
    start.trouble.clear();
    start.practice = std::make_unique<PracticeFilm>(suggested_season_path("Practice").replace_extension(),
                                                    start.make_practice_film);
}

bool await_practice(App& app) {
    StartPage& start = app.start;
    if (!start.practice) return false;
    // Drawn again only when there is news: the film needs the processor more.
    if (!start.practice->done())
        return std::exchange(start.practice_shown, start.practice->per_cent()) != start.practice->per_cent();
    const std::filesystem::path folder = start.practice->folder();
    const std::string error = start.practice->error();
    start.practice.reset();
    if (!error.empty()) {
        start.trouble = error;
        return true;
    }
    const std::filesystem::path season = folder / "practice.season";
    if (std::filesystem::exists(season)) {
        drop_file(app, season.string());
    } else {
        NewSeasonForm form;
        form.season = "Practice";
        form.goalie = "Ilse Varga";
        form.team = "Harbour Pike";
        form.opponent = "Mill Town Otters";
        form.film = (folder / "end_zone.mp4").string();
        form.date = today();
        form.path = season.string();
        start.trouble = create_season(app, form);
    }
    if (app.log.book) start_guide(app);
    return true;
}

} // namespace ropeline
