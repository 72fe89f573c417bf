// The Season side in a turn of the window: its numbers are worked out, a shot is opened on the film, papers are written.
#include "desk/app.h"
#include "desk/season_pages.h"
#include "season/whole_file.h"
#include "sheet/season_page.h"
#include "sheet/shot_words.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

template <class Entries, class Projection>
std::optional<std::size_t> place_of(const Entries& entries, const Id& id, Projection id_of) {
    const auto found = std::ranges::find(entries, id, id_of);
    if (found == entries.end()) return std::nullopt;
    return static_cast<std::size_t>(found - entries.begin());
}

std::string asked_words(const SeasonPart& part, const FactFilter& only) {
    return filter_words(only, part.numbers ? goalie_words(part.numbers->choices, only.goalie_id) : "");
}

/// Out     true while something is written.
bool take_papers(App& app) {
    if (!app.season.saving) return false;
    if (!app.season.saving->finished()) return true;
    const auto saving = std::exchange(app.season.saving, nullptr);
    if (const auto told = saving->take()) tell(app, *told, false);
    return false;
}

} // namespace

bool run_season(App& app) {
    bool awaited = false;
    try {
        awaited = take_papers(app);
        if (app.side != Side::season) return awaited; // Study reads for itself, in its own turn
        const LogState& log = app.log.state();
        awaited = work_out_season(app.season, app.log.book->file(), log.season, log.list.only) || awaited;
    } catch (const std::exception& error) {
        tell_trouble(app, error);
    }
    return awaited;
}

bool open_shot(App& app, const Id& game_id, const Id& shot_id) {
    const LogState& log = app.log.state();
    const auto game = place_of(log.games, game_id, &Game::id);
    if (!game) return false;
    const auto apply = [&app](const LogAction& action) { app.log.book->apply(action, frame_at(app.stage)); };
    if (log.selection.game_id() != game_id) apply(ChooseGame{*game});
    const auto shot = place_of(log.shots, shot_id, [](const ShotEntry& entry) { return entry.shot.id; });
    if (!shot) return false;
    const auto film = place_of(log.films, log.shots[*shot].shot.film_id, &Film::id);
    if (film && log.selection.film_id() != log.films[*film].id) apply(ChooseFilm{*film});
    open_chosen_film(app);
    apply(PickShot{*shot});
    open_chosen_film(app); // its moment may be on another one
    return true;
}

void open_on_film(App& app, const Id& shot_id) {
    const auto fact = std::ranges::find(app.season.facts, shot_id, &ShotFact::shot_id);
    if (fact == app.season.facts.end()) return;
    if (open_shot(app, Id{fact->game_id}, shot_id)) app.side = Side::log;
}

void compare_by(App& app, CompareBy by) {
    if (!app.season.numbers) return;
    const Comparison comparison = usual_comparison(by, *app.season.numbers);
    if (comparison.by != by)
        return tell(
            app,
            by == CompareBy::reviewers
                ? "Two reviewers are compared where two have logged shots: say who logs under [what_we_log]."
                : "There are no two goalies to compare yet.",
            false);
    app.season.comparison = comparison;
    app.season.view = SeasonView::charts;
}

namespace {

PageSide side_of(const SeasonColumn& column) {
    return {column.name, column.shots, column.games, column.first, column.further, column.charts};
}

/// What stands side by side on the desk, as a page in a folder of that name.
std::string write_comparison(const std::filesystem::path& folder, const SeasonNumbers& numbers,
                             const Season& season, const std::string& asked) {
    const auto page = folder / "side by side.html";
    write_whole_file(page, side_by_side_page(season, asked, numbers.between, side_of(numbers.columns[0]),
                                             side_of(numbers.columns[1]), numbers.shared));
    return fmt::format("The page is {}", page.string());
}

} // namespace

void save_papers(App& app, SeasonPaper paper) {
    if (app.season.saving || !app.season.numbers) return;
    const LogState& log = app.log.state();
    const FactFilter only = log.list.only;
    const std::string asked = asked_words(app.season, only);
    app.season.saving = std::make_unique<BackgroundWork<std::string>>(
        5,
        [paper, folder = papers_folder(app.log.book->file().path(), asked), facts = app.season.facts,
         season = log.season, only, asked,
         numbers = app.season.numbers](const WorkOnItsWay&) -> std::optional<std::string> {
            if (paper == SeasonPaper::page && numbers->columns.size() == 2)
                return write_comparison(folder, *numbers, season, asked);
            return write_papers(paper, folder, facts, season, only, asked);
        });
}

} // namespace ropeline
