// Seasons made on the desk: the coach's own from the first page, and one to learn on around a rendered film, with an
// invented goalie and the guide beside it.
#include "desk/app.h"
#include "season/trimmed.h"

#include <chrono>
#include <cstdio>
#include <exception>
#include <utility>

namespace ropeline {

namespace {

bool is_date(const std::string& text) {
    int year = 0;
    unsigned month = 0;
    unsigned day = 0;
    char rest = 0;
    if (text.size() != 10 || std::sscanf(text.c_str(), "%4d-%2u-%2u%c", &year, &month, &day, &rest) != 3)
        return false;
    return std::chrono::year_month_day{std::chrono::year{year}, std::chrono::month{month},
                                       std::chrono::day{day}}
        .ok();
}

} // namespace

void create_season(App& app) {
    FirstRunForm& form = app.first_run;
    const std::string name{trimmed(form.season)};
    const std::string goalie{trimmed(form.goalie)};
    if (name.empty() || goalie.empty()) {
        app.trouble = "Name the season and the goalie first: both fields are marked.";
        return;
    }
    const std::string date{trimmed(form.date)};
    if (!is_date(date)) {
        app.trouble = "The date is written as year-month-day: 2026-11-25.";
        return;
    }
    std::filesystem::path path = trimmed(form.path);
    if (path.extension() != ".season") path += ".season";
    try {
        if (path.has_parent_path()) std::filesystem::create_directories(path.parent_path());
        Season season;
        season.name = name;
        season.league = trimmed(form.league);
        season.rules = rule_books()[static_cast<std::size_t>(form.rules)].id;
        season.level = static_cast<Level>(form.level);
        season.parameters = parameters_for(season.level);
        { SeasonFile::create(path, season); }
        open_season(app, path);
        const std::string team{trimmed(form.team).empty() ? "Our team" : trimmed(form.team)};
        const std::string opponent{trimmed(form.opponent).empty() ? "Opponent" : trimmed(form.opponent)};
        app.book->add_goalie(goalie, team);
        app.book->begin_game({date, team, opponent, season.rules});
        app.book->file().forget_changes();
        if (const std::string film{trimmed(form.film)}; !film.empty()) open_film(app, film);
        app.book->tell("Season made. Everything you log is kept at once; there is nothing to save.");
    } catch (const std::exception& error) {
        app.trouble = error.what();
    }
}

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
