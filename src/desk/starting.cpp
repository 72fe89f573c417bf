// The start page at work: what it looks up, and the season it makes.
#include "desk/app.h"

#include "season/dates.h"
#include "season/trimmed.h"

#include <utility>

namespace ropeline {

void show_start_page(App& app) {
    close_all(app.pages);
    app.exports.open = false;
    app.unite.open = false;
    app.exports.voice.reset();
    app.pages.start = true;
    app.start.there.reset();
    app.start.to_form = app.settings.recent.empty();
}

void make_own_season(App& app) {
    show_start_page(app);
    app.start.to_form = true;
}

bool start_page_shown(const App& app) {
    return app.pages.start || !app.log.book;
}

bool is_practice(const App& app) {
    return app.log.book && app.log.book->file().path().filename() == "practice.season";
}

void open_recent(App& app, std::size_t index) {
    if (index >= app.settings.recent.size()) return;
    const std::filesystem::path path = app.settings.recent[index].path;
    try {
        open_season(app, path);
    } catch (const std::exception& error) {
        app.start.trouble = error.what();
    }
}

void ask_for_season(App& app) {
    StartPage& start = app.start;
    if (start.checking) return;
    start.trouble.clear();
    start.field_trouble = trouble_in(start.form);
    if (start.field_trouble.any()) return;
    start.checking.emplace([form = start.form] { return trouble_on_disk(form); });
}

std::string create_season(App& app, const NewSeasonForm& form) {
    const std::filesystem::path path = new_season_path(form);
    try {
        if (path.has_parent_path()) std::filesystem::create_directories(path.parent_path());
        Season season;
        season.name = trimmed(form.season);
        season.league = trimmed(form.league);
        season.rules = rule_books()[static_cast<std::size_t>(form.rules)].id;
        season.level = static_cast<Level>(form.level);
        season.parameters = parameters_for(season.level);
        { SeasonFile::create(path, season); }
        open_season(app, path);
        const std::string goalie{trimmed(form.goalie)};
        const std::string team{trimmed(form.team).empty() ? "Our team" : trimmed(form.team)};
        const std::string opponent{trimmed(form.opponent).empty() ? "Opponent" : trimmed(form.opponent)};
        const std::string date{trimmed(form.date)};
        app.log.book->apply(BeginSeason{{goalie, team}, {date, team, opponent, season.rules}}, {});
        if (const Notice& notice = app.log.state().notice; notice.trouble) return notice.text;
        if (const auto film = new_film_path(form); !film.empty()) open_film(app, film.string());
    } catch (const std::exception& error) {
        return error.what();
    }
    return {};
}

namespace {

/// Which of the recent seasons are there, looked up once while the page is shown.
void look_for_recent(App& app) {
    StartPage& start = app.start;
    if (start.there || start.looking) return;
    std::vector<std::filesystem::path> paths;
    for (const RecentSeason& one : app.settings.recent)
        paths.push_back(one.path);
    start.looking.emplace([paths] {
        std::vector<bool> there;
        for (const std::filesystem::path& path : paths) {
            std::error_code failed;
            there.push_back(std::filesystem::exists(path, failed));
        }
        return there;
    });
}

} // namespace

bool watch_start_page(App& app) {
    StartPage& start = app.start;
    bool news = await_practice(app);
    if (auto trouble = take_answer(start.checking)) {
        news = true;
        start.field_trouble = *std::move(trouble);
        if (!start.field_trouble.any()) {
            start.field_trouble.path = create_season(app, start.form);
            if (!start.field_trouble.any()) start.form = {};
        }
    }
    if (auto there = take_answer(start.looking)) {
        start.there = *std::move(there);
        news = true;
    }
    if (start_page_shown(app)) {
        look_for_recent(app);
        if (start.form.date.empty()) start.form.date = today();
        if (!start.form.path_typed) start.form.path = shown_place(suggested_season_path(start.form.season));
    }
    return news || start.checking || start.looking;
}

} // namespace ropeline
