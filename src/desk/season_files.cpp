// Seasons on the desk: opened, made from the first page, opened again at the next start.
#include "desk/app.h"
#include "season/dates.h"
#include "season/derive.h"
#include "season/trimmed.h"

#include <fmt/format.h>

#include <chrono>
#include <cstdio>
#include <exception>

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

bool is_open_here(const App& app, const std::filesystem::path& path) {
    std::error_code failed;
    return app.log.book && std::filesystem::equivalent(app.log.book->file().path(), path, failed);
}

/// What was read from the season before, or typed on its pages, says nothing about this one.
void forget_season_before(App& app) {
    app.log.drag.reset();
    app.log.tried.reset();
    app.log.view = {};
    app.log.viewed = false;
    app.season = {};
    app.study = {};
    app.list = {};
    app.exports = {};
    app.scorer_list.reset();
    app.guide.reset();
    app.pages.card = {};
    app.pages.parameter = {};
    app.pages.games_form = {};
    app.pages.games_form.date = today();
}

/// What an earlier edition of the depth model worked out is worked out again.
void bring_up_to_date(App& app, SeasonFile& file) {
    if (!figures_are_old(file)) return;
    recompute(file, [&app](double share) {
        app.log.progress = share;
        if (app.draw_meanwhile) app.draw_meanwhile();
    });
    app.log.progress.reset();
}

} // namespace

void open_season(App& app, const std::filesystem::path& path) {
    if (is_open_here(app, path)) return tell(app, "This season is open here already.", false);
    if (app.log.book && app.log.book->wait_for_commit())
        throw SeasonError(SeasonFault::refused, app.log.state().notice.text);
    const Settings before = app.settings;
    // Written first: a season that ends the program on the way is not opened again by itself.
    app.settings.last_season = std::filesystem::absolute(path);
    app.settings.opened_well = false;
    save_settings(settings_path(), app.settings);
    try {
        SeasonFile file = SeasonFile::open(path);
        bring_up_to_date(app, file);
        LogBook book{std::move(file)};
        close_film(app.stage);
        app.log.book.emplace(std::move(book));
    } catch (...) {
        app.settings = before;
        save_settings(settings_path(), app.settings);
        throw;
    }
    app.log.book->commit_in_background();
    app.first_run.trouble.clear();
    app.side = Side::log;
    forget_season_before(app);
    const std::vector<std::string>& set_aside = app.log.book->file().set_aside();
    if (!set_aside.empty()) tell(app, fmt::format("{}", fmt::join(set_aside, ". ")), true);
    open_chosen_film(app);
}

void note_opened_well(App& app) {
    if (app.settings.opened_well) return;
    app.settings.opened_well = true;
    save_settings(settings_path(), app.settings);
}

void open_last_season(App& app) {
    const std::filesystem::path path = app.settings.last_season;
    if (path.empty()) return;
    if (!app.settings.opened_well) {
        app.first_run.trouble = fmt::format(
            "The desk ended before {} was on screen, so it did not open it again by itself. Drop the "
            "season here to open it.",
            path.string());
        return;
    }
    try {
        open_season(app, path);
    } catch (const std::exception& error) {
        tell_trouble(app, error);
    }
}

void create_season(App& app) {
    FirstRunForm& form = app.first_run.form;
    std::string& trouble = app.first_run.trouble;
    const std::string name{trimmed(form.season)};
    const std::string goalie{trimmed(form.goalie)};
    const std::string date{trimmed(form.date)};
    if (name.empty() || goalie.empty()) {
        trouble = "Name the season and the goalie first: both fields are marked.";
        return;
    }
    if (!is_date(date)) {
        trouble = "The date is written as year-month-day: 2026-11-25.";
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
        app.log.book->apply(BeginSeason{{goalie, team}, {date, team, opponent, season.rules}}, {});
        if (app.log.state().notice.trouble) return;
        if (const std::string film{trimmed(form.film)}; !film.empty()) open_film(app, film);
    } catch (const std::exception& error) {
        tell_trouble(app, error);
    }
}

} // namespace ropeline
