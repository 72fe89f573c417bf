// The desk as a whole, without its window: what keys, dropped files and a turn do to its parts.
#include "desk/commands.h"
#include "desk/made_home.h"

#include <doctest/doctest.h>

#include <fstream>
#include <new>

using namespace ropeline;

namespace {

std::string notice(const App& app) {
    return app.log.state().notice.text;
}

} // namespace

TEST_CASE("a season dropped on the desk that has it open is said to be open here, and stays open") {
    const test::HomeWithSeason home;
    App app;
    open_season(app, home.season);
    app.side = Side::season;
    drop_file(app, home.season.string());
    CHECK(notice(app) == "This season is open here already.");
    CHECK(app.side == Side::season);
}

TEST_CASE("what is asked for while progress is drawn waits for the next turn, and is done then") {
    const test::HomeWithSeason home;
    App app;
    open_season(app, home.season);
    app.log.book->apply(NewShot{}, test::at(30));
    REQUIRE(app.log.state().shots.size() == 1);
    int drawn = 0;
    app.draw_meanwhile = [&] {
        ++drawn;
        for (int click = 0; click < 200; ++click)
            app.actions.push_back(Focus{CardField::outcome});
    };
    app.actions.push_back(SetLevel{Level::elite});
    app.actions.push_back(Focus{CardField::came});
    update(app);
    CHECK(drawn > 0);
    CHECK(app.log.state().season.level == Level::elite);
    CHECK(app.log.state().field == CardField::came);
    CHECK(app.actions.size() == static_cast<std::size_t>(200 * drawn));
    app.draw_meanwhile = nullptr;
    update(app);
    CHECK(app.log.state().field == CardField::outcome);
    CHECK(app.actions.empty());
}

TEST_CASE("the last season opens by itself only when the desk got as far as showing it the last time") {
    const test::HomeWithSeason home;
    {
        App app;
        open_season(app, home.season);
        CHECK_FALSE(test::stored_settings().opened_well); // and here the program ends
    }
    App app;
    app.settings = test::stored_settings();
    open_last_season(app);
    CHECK_FALSE(app.log.book);
    CHECK(app.start.trouble.find(home.season.string()) != std::string::npos);
    CHECK(app.start.trouble.find("Drop the season here") != std::string::npos);

    drop_file(app, home.season.string());
    REQUIRE(app.log.book);
    test::await_all(app);
    CHECK(test::stored_settings().opened_well);
    CHECK(test::stored_settings().last_season == home.season);
}

TEST_CASE("a season that cannot be opened changes nothing: the one before stays open, and opens at the next "
          "start") {
    const test::HomeWithSeason home;
    App app;
    open_season(app, home.season);
    test::await_all(app);
    const auto broken = home.folder.path / "broken.season";
    std::ofstream(broken) << "no season at all";
    drop_file(app, broken.string());
    CHECK(app.log.state().notice.trouble);
    CHECK(app.log.book->file().path() == home.season);
    CHECK(test::stored_settings().last_season == home.season);
    CHECK(test::stored_settings().opened_well);
}

TEST_CASE("a machine without memory left is told in words") {
    const test::HomeWithSeason home;
    App app;
    tell_trouble(app, std::bad_alloc{});
    CHECK(app.start.trouble.find("not enough memory") != std::string::npos);
}

TEST_CASE("a key does nothing where its command is not valid") {
    const test::HomeWithSeason home;
    App app;
    CHECK(place_of_keys(app) == Place::start_page);
    run_command(app, Command::new_shot);
    run_command(app, Command::side_study);
    CHECK(app.actions.empty());
    CHECK(app.side == Side::log);

    open_season(app, home.season);
    CHECK(place_of_keys(app) == Place::log);
    run_command(app, Command::parameters);
    CHECK(place_of_keys(app) == Place::page);
    run_command(app, Command::new_shot);
    CHECK(app.actions.empty());
    run_command(app, Command::put_down);
    run_command(app, Command::new_shot);
    CHECK(app.actions.size() == 1);
}

TEST_CASE("pages and sides are called by their keys, and Esc leaves them one after another") {
    const test::HomeWithSeason home;
    App app;
    open_season(app, home.season);
    run_command(app, Command::side_season);
    run_command(app, Command::games);
    CHECK(app.pages.games);
    run_command(app, Command::parameters);
    CHECK_FALSE(app.pages.games);
    CHECK(app.pages.parameters);
    run_command(app, Command::put_down);
    CHECK_FALSE(any_open(app.pages));
    CHECK(app.side == Side::season);
    run_command(app, Command::put_down);
    CHECK(app.side == Side::log);
}

TEST_CASE("a game and a goalie typed on the games page empty their fields once the season took them") {
    const test::HomeWithSeason home;
    App app;
    open_season(app, home.season);
    GamesForm& form = app.pages.games_form;
    form.home = "Harbour Pike";
    form.goalie = std::string(520, 'x');
    app.actions.push_back(NewGame{"2026-11-27", form.home, "Mill Town Otters", RuleBookId::nhl});
    update(app);
    CHECK(form.home.empty());
    app.actions.push_back(NewGoalie{form.goalie, "Harbour Pike"});
    update(app);
    CHECK(app.log.state().notice.trouble);
    CHECK(form.goalie.size() == 520);
}

TEST_CASE("a shot with marks is moved only after the cost was said: Enter moves it, Esc leaves it") {
    const test::HomeWithSeason home;
    App app;
    open_season(app, home.season);
    app.log.book->apply(NewShot{}, test::at(30));
    const Id shot = app.log.state().shots[0].shot.id;
    app.actions.push_back(AskToMove{shot, test::at(50)}); // nothing is marked yet
    update(app);
    update(app);
    CHECK(app.log.state().shots[0].shot.frame == 50);

    app.log.book->apply(FilmClick{{640.0, 400.0}}, test::at(50));
    app.actions.push_back(AskToMove{shot, test::at(70)});
    update(app);
    REQUIRE(app.pages.moving);
    CHECK(app.pages.moving->question == "Move shot 1 from frame 50 to frame 70?");
    CHECK(app.pages.moving->cost.starts_with("Its mark was made on frame 50"));
    CHECK(place_of_keys(app) == Place::asking);
    run_command(app, Command::put_down);
    CHECK_FALSE(app.pages.moving);
    CHECK(app.log.state().shots[0].shot.frame == 50);
    app.actions.push_back(AskToMove{shot, test::at(70)});
    update(app);
    run_command(app, Command::take_shot);
    update(app);
    CHECK(app.log.state().shots[0].shot.frame == 70);
    CHECK_FALSE(any_open(app.pages));
}

TEST_CASE("after overruling, a number chooses at once; once a reason is begun it is written, until Enter") {
    OverruleForm form;
    CHECK_FALSE(number_chooses(form));
    form.open = true;
    CHECK(number_chooses(form));
    form.reason = "had 2 options";
    CHECK_FALSE(number_chooses(form));
    form.written = true;
    CHECK(number_chooses(form));
}

TEST_CASE("a goalie whom a list names and the season does not have is added, and who is in net stays there") {
    const test::HomeWithSeason home;
    const auto path = home.folder.path / "list.csv";
    std::ofstream(path) << "period,clock,goalie\n1,10:00,Kim Holt\n";
    App app;
    open_season(app, home.season);
    const Id in_net = app.log.state().goalie_id;
    drop_file(app, path.string());
    REQUIRE(app.scorer_list);
    REQUIRE(app.scorer_list->coming.names.size() == 1);
    app.actions.push_back(TellName{"Kim Holt", {}});
    update(app);
    CHECK(app.log.state().goalie_id == in_net);
    CHECK(app.scorer_list->coming.names.empty());
    REQUIRE(app.scorer_list->coming.shots.size() == 1);
    CHECK(goalie_of(app.log.state(), app.scorer_list->coming.shots[0].goalie_id)->name == "Kim Holt");
}
