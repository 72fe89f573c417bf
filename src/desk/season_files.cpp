// Seasons on the desk: opened, left, opened again where they were left.
#include "desk/app.h"
#include "season/dates.h"
#include "season/derive.h"

#include <fmt/format.h>

#include <exception>

namespace ropeline {

namespace {

bool is_open_here(const App& app, const std::filesystem::path& path) {
    std::error_code failed;
    return app.log.book && std::filesystem::equivalent(app.log.book->file().path(), path, failed);
}

/// What was read from the season before, or typed on its pages, says nothing about this one.
void forget_season_before(App& app) {
    app.log.drag.reset();
    app.log.tried.reset();
    app.log.menu.reset();
    app.log.view = {};
    app.log.viewed = false;
    app.season = {};
    app.study = {};
    app.list = {};
    app.exports = {};
    app.unite = {};
    app.letters_read_at.reset();
    app.scorer_list.reset();
    app.guide.reset();
    app.pages.card = {};
    app.pages.start = false;
    app.pages.moving.reset();
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

/// Among the recent seasons, and back to where it was left.
void reopen_where_left(App& app) {
    note_recent(app.settings, app.settings.last_season, app.log.state().season.name, today());
    save_settings(settings_path(), app.settings);
    const LeftAt left = app.settings.recent.front().left;
    if (left.game_id.empty()) return;
    const Notice notice = app.log.state().notice;
    app.log.book->apply(ReopenAt{left.game_id, left.film_id, left.frame}, {});
    if (!notice.text.empty()) tell(app, notice.text, notice.trouble);
    app.side = left.side;
}

} // namespace

void open_season(App& app, const std::filesystem::path& path) {
    if (is_open_here(app, path)) {
        app.pages.start = false;
        return tell(app, "This season is open here already.", false);
    }
    if (app.log.book && app.log.book->wait_for_commit())
        throw SeasonError(SeasonFault::refused, app.log.state().notice.text);
    note_where_left(app);
    const Settings before = app.settings;
    // Written first: a season that ends the program on the way is not opened again by itself.
    app.settings.last_season = std::filesystem::absolute(path).lexically_normal();
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
    app.start.trouble.clear();
    app.side = Side::log;
    forget_season_before(app);
    const std::vector<std::string>& set_aside = app.log.book->file().set_aside();
    if (!set_aside.empty()) tell(app, fmt::format("{}", fmt::join(set_aside, ". ")), true);
    reopen_where_left(app);
    open_chosen_film(app);
}

void note_where_left(App& app) {
    if (!app.log.book) return;
    RecentSeason* recent = recent_season(app.settings, app.settings.last_season);
    if (!recent) return;
    const Selection& open = app.log.state().selection;
    const bool same_film = recent->left.film_id == open.film_id();
    recent->left.game_id = open.game_id();
    recent->left.film_id = open.film_id();
    recent->left.side = app.side;
    if (frames_of(app.stage)) {
        recent->left.frame = number(app.stage.player.frame);
    } else if (!same_film) { // a film that never came up stays where it was left before
        recent->left.frame = 0;
    }
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
        app.start.trouble = fmt::format(
            "The desk ended before {} was on screen, so it did not open it again by itself. Drop the "
            "season here, or pick it below, to open it.",
            path.string());
        return;
    }
    try {
        open_season(app, path);
    } catch (const std::exception& error) {
        tell_trouble(app, error);
    }
}

} // namespace ropeline
