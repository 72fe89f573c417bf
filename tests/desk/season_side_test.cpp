// The Season side without its window: what is asked for is worked out on a thread, what stands stays until the new is there,
// the list shares the filter, and what goes wrong is told once.
#include "desk/commands.h"
#include "desk/made_book.h"
#include "season/derive.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <thread>

using namespace ropeline;

namespace {

/// Two goalies, two games, ten shots each; every third of the first's is a goal.
struct PlayedSeason {
    test::Folder folder;
    std::filesystem::path path = folder.path / "two.season";
    std::vector<Id> goalies, games;

    PlayedSeason() {
        setenv("XDG_CONFIG_HOME", folder.path.c_str(), 1);
        setenv("HOME", folder.path.c_str(), 1);
        SeasonFile file = test::new_season(path);
        for (const char* name : {"Ilse Varga", "Ada Berg"}) {
            Team team{{}, std::string{name} + "'s team"};
            file.put(team);
            Goalie goalie{{}, team.id, name, "left"};
            file.put(goalie);
            goalies.push_back(goalie.id);
        }
        for (const char* date : {"2026-11-20", "2026-12-20"}) {
            Game game{{}, date, file.teams()[0].id, file.teams()[1].id, RuleBookId::nhl, ""};
            file.put(game);
            games.push_back(game.id);
        }
        for (int i = 0; i < 20; ++i)
            put_shot(file, i);
    }

    void put_shot(SeasonFile& file, int i) const {
        Shot shot;
        shot.game_id = games.at(static_cast<std::size_t>(i % 2));
        shot.goalie_id = goalies.at(i < 10 ? 0 : 1);
        shot.frame = 10 * i;
        shot.situation = i % 4 == 0 ? Situation::rush : Situation::zone;
        shot.came = NextAction::shot;
        shot.outcome = i < 10 && i % 3 == 0 ? Outcome::goal : Outcome::save_held;
        shot.tagged_by = i % 2 == 0 ? "Coach One" : "Coach Two";
        file.put(shot);
    }
};

struct OpenSeason {
    PlayedSeason played;
    App app;
    OpenSeason() { open_season(app, played.path); }
    void act(const DeskAction& action) {
        app.actions.push_back(action);
        settle();
    }
    void settle() {
        for (int still = 0; still < 3;) {
            still = update(app) ? 0 : still + 1;
            if (app.log.book) app.log.book->start_commit();
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
    }
    const SeasonNumbers& numbers() const {
        REQUIRE(app.season.numbers);
        return *app.season.numbers;
    }
};

} // namespace

TEST_CASE("the Season side works out what is logged, on a thread, and again only when something changed") {
    OpenSeason desk;
    desk.settle();
    CHECK_FALSE(desk.app.season.numbers); // nobody looks yet
    desk.app.side = Side::season;
    CHECK(update(desk.app)); // it is on its way
    desk.settle();
    CHECK(desk.numbers().shots == 20);
    CHECK(desk.numbers().goalies.size() == 2);
    REQUIRE(desk.numbers().columns.size() == 1);
    CHECK(desk.numbers().columns.front().first.starts_with("Nothing can be said of depth yet"));
    const auto before = desk.app.season.numbers;
    desk.settle();
    CHECK(desk.app.season.numbers == before);
    desk.act(FocusBy{1}); // an action that changes no shot
    CHECK(desk.app.season.numbers == before);
}

TEST_CASE("while the numbers are renewed the old ones stay, and a change of the log renews them") {
    OpenSeason desk;
    desk.app.side = Side::season;
    desk.settle();
    const auto before = desk.app.season.numbers;
    desk.app.actions.push_back(FilterFacts{{.goals = true}});
    update(desk.app);
    CHECK(share_worked_out(desk.app.season));
    CHECK(desk.app.season.numbers == before);
    desk.settle();
    CHECK(desk.numbers().shots == 4);
    CHECK_FALSE(share_worked_out(desk.app.season));
    desk.act(FilterFacts{});
    desk.app.log.book->apply(ChooseGame{0}, {});
    desk.app.log.book->apply(PickShot{0}, {});
    desk.act(RemoveShot{.whole = true});
    CHECK(desk.numbers().shots == 19);
    desk.act(Undo{});
    CHECK(desk.numbers().shots == 20);
}

TEST_CASE("of goals alone no share of goals is told, neither on the desk nor on the page") {
    OpenSeason desk;
    desk.app.side = Side::season;
    desk.act(FilterFacts{{.goals = true}});
    const SeasonColumn& column = desk.numbers().columns.front();
    CHECK(column.first.starts_with("Of goals all went in"));
    CHECK(column.further.empty());
    const auto has = [&](const char* name) {
        return std::ranges::find(column.charts, name, &NamedChart::name) != column.charts.end();
    };
    CHECK(has("shots_on_plan"));
    CHECK_FALSE(has("goals_by_depth"));
    CHECK_FALSE(has("game_by_game"));
    desk.act(SavePapers{SeasonPaper::page});
    std::ifstream page(desk.played.folder.path / "two summary, goals" / "season.html");
    const std::string text{std::istreambuf_iterator<char>(page), {}};
    CHECK(text.find("goals (all went in: no share of goals here says anything)") != std::string::npos);
}

TEST_CASE("the goalies' table is of all goalies, whichever one is asked for; a row asks for its goalie") {
    OpenSeason desk;
    desk.app.side = Side::season;
    desk.act(FilterFacts{{.goalie_id = desk.played.goalies[0]}});
    CHECK(desk.numbers().shots == 10);
    CHECK(desk.numbers().goalies.size() == 2);
    desk.act(SortGoalies{GoalieColumn::save_share});
    REQUIRE(desk.app.season.in_order.size() == 2);
    CHECK(desk.numbers().goalies[desk.app.season.in_order[0]].goalie == "Ada Berg"); // the best first
    desk.act(SortGoalies{GoalieColumn::save_share});
    CHECK(desk.numbers().goalies[desk.app.season.in_order[0]].goalie == "Ilse Varga");
}

TEST_CASE("the shot list is about the same shots, as far as a list of one game has them") {
    OpenSeason desk;
    desk.act(ChooseGame{0});
    const LogState& log = desk.app.log.state();
    REQUIRE(log.shots.size() == 10);
    CHECK(listed_shots(log).size() == 10);
    desk.act(FilterFacts{{.goalie_id = desk.played.goalies[0]}});
    CHECK(listed_shots(log).size() == 5);
    desk.act(FilterFacts{{.situation = Situation::rush}});
    CHECK(listed_shots(log).size() == 5);
    desk.act(FilterFacts{{.goals = true}});
    CHECK(listed_shots(log).size() == 2);
    desk.act(FilterFacts{{.team = "ada berg's TEAM"}});
    CHECK(listed_shots(log).size() == 5);
    desk.act(FilterFacts{{.from = "2027-01-01", .area = IceArea{{0.0, 0.0}, {1.0, 1.0}}}});
    CHECK(listed_shots(log).size() == 10); // other games, and the plan, are the Season side's
    desk.act(FilterFacts{{.verdict = Verdict::sat_back}});
    CHECK(listed_shots(log).empty());
}

TEST_CASE("two goalies, two halves, two reviewers stand side by side with what parts them between") {
    OpenSeason desk;
    desk.app.side = Side::season;
    desk.settle();
    desk.act(CompareSeasonBy{CompareBy::goalies});
    REQUIRE(desk.numbers().columns.size() == 2);
    CHECK(desk.numbers().columns[0].shots == 10);
    CHECK(desk.numbers().columns[1].shots == 10);
    CHECK(desk.numbers().columns[0].name != desk.numbers().columns[1].name);
    REQUIRE_FALSE(desk.numbers().between.empty());
    CHECK(desk.numbers().between.front().starts_with("Goals of unblocked attempts: "));
    desk.act(CompareSeason{{CompareBy::goalies, desk.played.goalies[0], desk.played.goalies[0]}});
    CHECK(desk.numbers().columns[1].name == "Ilse Varga");
    desk.act(CompareSeasonBy{CompareBy::halves});
    CHECK(desk.numbers().columns[0].name == "the first half");
    CHECK(desk.numbers().columns[1].shots == 10);
    desk.act(CompareSeasonBy{CompareBy::reviewers});
    CHECK(desk.numbers().columns[0].name == "Coach One");
    desk.act(CompareSeasonBy{CompareBy::nothing});
    CHECK(desk.numbers().columns.size() == 1);
}

TEST_CASE("a shot is opened on the Log side with its game, from whichever game was open") {
    OpenSeason desk;
    desk.app.side = Side::season;
    desk.settle();
    for (const ShotFact& fact : std::vector<ShotFact>(desk.app.season.facts.rows())) {
        desk.app.side = Side::season;
        desk.act(OpenOnFilm{fact.shot_id});
        CHECK(desk.app.side == Side::log);
        CHECK(desk.app.log.state().selection.game_id() == fact.game_id);
        CHECK(desk.app.log.state().selection.shot_id() == fact.shot_id);
    }
    desk.app.side = Side::season;
    desk.act(OpenOnFilm{"no such shot"});
    CHECK(desk.app.side == Side::season);
}

TEST_CASE("page, charts and tables are saved beside the season, a folder a filter, and told in one line") {
    OpenSeason desk;
    desk.app.side = Side::season;
    desk.settle();
    const auto folder = desk.played.folder.path / "two summary";
    for (const SeasonPaper paper : {SeasonPaper::page, SeasonPaper::charts, SeasonPaper::tables}) {
        desk.act(SavePapers{paper});
        CHECK_FALSE(desk.app.log.state().notice.trouble);
        CHECK(desk.app.log.state().notice.text.find(folder.string()) != std::string::npos);
    }
    for (const char* name :
         {"season.html", "shots.csv", "groups.csv", "shots_on_plan.svg", "shots_on_plan.png"})
        CHECK(std::filesystem::file_size(folder / name) > 100);
    desk.act(FilterFacts{{.goalie_id = desk.played.goalies[0]}});
    desk.act(SavePapers{SeasonPaper::page});
    CHECK(std::filesystem::exists(desk.played.folder.path / "two summary, Ilse Varga" / "season.html"));
}

TEST_CASE("what stands side by side is saved as it stands, with what parts the two on top") {
    OpenSeason desk;
    desk.app.side = Side::season;
    desk.settle();
    desk.act(CompareSeasonBy{CompareBy::goalies});
    const std::string between = desk.numbers().between.front();
    desk.act(SavePapers{SeasonPaper::page});
    std::ifstream file{desk.played.folder.path / "two summary" / "side by side.html"};
    const std::string page{std::istreambuf_iterator<char>{file}, {}};
    CHECK(page.find(between) != std::string::npos);
    for (const SeasonColumn& column : desk.numbers().columns) {
        CHECK(page.find("<h2 class=\"name\">" + column.name + "</h2>") != std::string::npos);
        CHECK(page.find("<figure><h2>" + column.name + ": ") != std::string::npos);
    }
}

TEST_CASE("papers that cannot be written are one line of trouble, and the season goes on") {
    OpenSeason desk;
    desk.app.side = Side::season;
    desk.settle();
    std::ofstream(desk.played.folder.path / "two summary") << "in the way";
    desk.act(SavePapers{SeasonPaper::tables});
    CHECK(desk.app.log.state().notice.trouble);
    CHECK(desk.app.log.state().notice.text.find('\n') == std::string::npos);
    CHECK(desk.numbers().shots == 20);
}

TEST_CASE("a season that can no longer be read is told once, the old numbers stay, and the next change tries "
          "again") {
    OpenSeason desk;
    desk.app.side = Side::season;
    desk.settle();
    const auto before = desk.app.season.numbers;
    desk.app.season.reader = std::make_shared<SeasonReader>(desk.played.folder.path / "gone.season");
    desk.act(FilterFacts{{.goals = true}});
    CHECK(desk.app.log.state().notice.trouble);
    CHECK(desk.app.season.numbers == before);
    tell(desk.app, "", false);
    desk.settle();
    CHECK_FALSE(desk.app.log.state().notice.trouble); // not again and again
    desk.app.season.reader.reset();
    desk.act(FocusBy{1});
    CHECK(desk.numbers().shots == 4);
}

TEST_CASE("a name for a folder has nothing that a file system refuses") {
    CHECK(papers_folder("/seasons/Winter.season", "A/B: <rush>") == "/seasons/Winter summary, A-B- -rush-");
    const auto longest = papers_folder("/seasons/Winter.season", std::string(300, 'x')).filename().string();
    CHECK(longest.size() <= 200);
    std::string accents;
    for (int i = 0; i < 200; ++i)
        accents += "é";
    const auto cut = papers_folder("/s/W.season", accents).filename().string();
    CHECK(static_cast<unsigned char>(cut.back()) != 0xC3);
}
