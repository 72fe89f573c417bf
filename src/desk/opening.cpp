// Films, lists and seasons that are chosen, typed or dropped on the desk.
#include "desk/app.h"
#include "intake/goalie_answers.h"

#include <filesystem>
#include <set>
#include <utility>

namespace ropeline {

std::string resolved_path(const App& app, const std::string& path) {
    if (path.empty() || !app.log.book) return path;
    Film film;
    film.path = path;
    return film_path(app.log.book->file(), film).string();
}

void open_film(App& app, const std::string& path) {
    if (app.log.book && !chosen_game(app.log.state())) {
        app.pages.games = true;
        return tell(app, "Start a game first, then add its film.", true);
    }
    close_film(app.stage);
    app.stage.path = resolved_path(app, path);
    FilmOptions options;
    options.cache_bytes = std::size_t{512} << 20;
    if (app.log.book) {
        for (const Film& known : app.log.state().films) {
            if (resolved_path(app, known.path) != app.stage.path) continue;
            try {
                if (auto kept = app.log.book->file().film_index(known.id))
                    options.kept_index = std::move(kept->frames);
            } catch (const SeasonError&) { // then the film is read through once more
            }
        }
    }
    app.stage.film = std::make_unique<FilmDesk>(app.stage.path, options);
}

void open_chosen_film(App& app) {
    const Film* film = chosen_film(app.log.state());
    if (!film) return close_film(app.stage);
    if (app.stage.film && app.stage.path == resolved_path(app, film->path)) return;
    open_film(app, film->path);
}

void open_list(App& app, const std::string& path) {
    const LogState& log = app.log.state();
    if (!chosen_game(log)) {
        app.pages.games = true;
        return tell(app, "Pick or start the game first, then bring in its list of shots.", true);
    }
    if (log.goalie_id.empty()) {
        app.pages.games = true;
        return tell(app, "Add the goalie who was in net first, then bring in the list of shots.", true);
    }
    app.scorer_list = read_scorer_list(path);
    if (!app.scorer_list)
        return tell(app, "The list " + path + " cannot be read: is it there, and may you read it?", true);
    app.side = Side::log;
    app.pages.games = app.pages.key_sheet = app.pages.parameters = app.pages.what_we_log = false;
    read_again(*app.scorer_list, log, frames_of(app.stage).get());
}

namespace {

/// Answers out of a handout; undo in Study takes them back.
void take_answers_file(App& app, const std::string& path) {
    if (!app.log.book) {
        app.start.trouble = "Open the season first, then drop the answers on the desk.";
        return;
    }
    try {
        auto answers = read_answers(read_answers_file(path));
        std::set<Id> there;
        for (const Answer& answer : app.log.book->file().answers())
            there.insert(answer.id);
        app.log.book->apply(TakeAnswers{std::move(answers)}, frame_at(app.stage));
        app.season.stale = true;
        GivenAnswers given;
        for (const Answer& answer : app.log.book->file().answers())
            if (!there.contains(answer.id)) given.answers.push_back(answer);
        if (!given.answers.empty()) app.study.given.push_back(std::move(given));
    } catch (const AnswersError& error) {
        tell(app, error.what(), true);
    }
}

} // namespace

void drop_file(App& app, const std::string& path) {
    if (std::filesystem::path(path).extension() == ".season") {
        try {
            open_season(app, path);
        } catch (const std::exception& error) {
            tell_trouble(app, error);
        }
    } else if (std::filesystem::path(path).extension() == ".json") {
        take_answers_file(app, path);
    } else if (start_page_shown(app) && is_scorer_list(path)) {
        app.start.trouble = "Make the season first, then drop its lists of shots on the desk.";
    } else if (start_page_shown(app)) {
        app.start.form.film = shown_place(path);
    } else if (is_scorer_list(path)) {
        open_list(app, path);
    } else {
        app.pages.games_form.film = path;
        open_film(app, path);
    }
}

} // namespace ropeline
