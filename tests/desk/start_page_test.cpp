// The start page without a window: what its form takes, and that the desk comes back to where it was.
#include "desk/commands.h"
#include "desk/made_home.h"
#include "desk/state/icon.h"
#include "desk/state/window_title.h"
#include "film/clips.h"

#include <doctest/doctest.h>

#include <chrono>
#include <fstream>
#include <thread>

using namespace ropeline;

namespace {

/// And the film is there: between two looks at it, it may have come up.
void await_film(App& app) {
    for (int waited = 0; waited < 5000 && !frames_of(app.stage); ++waited) {
        update(app);
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    test::await_all(app);
}

NewSeasonForm filled() {
    NewSeasonForm form;
    form.season = "U16";
    form.goalie = "Ilse Varga";
    form.date = "2026-11-27";
    form.path = "~/Ropeline/U16";
    return form;
}

} // namespace

TEST_CASE("a form that cannot be taken keeps what was typed and says why at the field") {
    NewSeasonForm form = filled();
    CHECK_FALSE(trouble_in(form).any());
    form.goalie = "  ";
    form.date = "27.11.2026";
    const FormTrouble trouble = trouble_in(form);
    CHECK(trouble.goalie == "Who is in net? Others can be added later.");
    CHECK(trouble.date == "The date is written as year-month-day: 2026-11-25.");
    CHECK(trouble.season.empty());
    form = filled();
    form.goalie = std::string(501, 'x');
    form.team = form.opponent = "Harbour Pike";
    CHECK(trouble_in(form).goalie.find("shorter") != std::string::npos);
    CHECK(trouble_in(form).team.find("same name") != std::string::npos);
    form = filled();
    form.league = form.opponent = std::string(501, 'x');
    form.path = "~/Ropeline/";
    CHECK(trouble_in(form).league.find("shorter") != std::string::npos);
    CHECK(trouble_in(form).opponent.find("shorter") != std::string::npos);
    CHECK(trouble_in(form).path == "Write a name for the season's file behind its folder.");
}

TEST_CASE(
    "film and place are looked at before a season is made: a wrong one is told at its field, and nothing is "
    "left behind") {
    const test::Home home;
    App app;
    test::await_all(app);
    app.start.form = filled();
    app.start.form.film = "~/no such film.mp4";
    ask_for_season(app);
    test::await_all(app);
    CHECK_FALSE(app.log.book);
    CHECK(app.start.field_trouble.film.find("no such file") != std::string::npos);
    CHECK(app.start.form.goalie == "Ilse Varga");
    CHECK_FALSE(std::filesystem::exists(home.folder.path / "Ropeline"));

    app.start.form.film = "~";
    std::ofstream(home.folder.path / "a file") << "no folder";
    app.start.form.path = "~/a file/U16";
    CHECK(trouble_on_disk(app.start.form).film == "This is a folder: choose the film in it.");
    CHECK(trouble_on_disk(app.start.form).path == "~/a file is no folder: choose another place.");
}

TEST_CASE(
    "a season made on the start page is open, first among the recent ones, and the form is empty again") {
    const test::Home home;
    App app;
    app.start.form = filled();
    ask_for_season(app);
    test::await_all(app);
    REQUIRE(app.log.book);
    CHECK(app.log.book->file().path() == home.folder.path / "Ropeline" / "U16.season");
    CHECK(app.log.state().games.size() == 1);
    CHECK(app.start.form.goalie.empty());
    CHECK_FALSE(start_page_shown(app));
    REQUIRE(test::stored_settings().recent.size() == 1);
    CHECK(test::stored_settings().recent[0].name == "U16");

    // A second of that name is refused at its field, with the first still open.
    show_start_page(app);
    app.start.form = filled();
    ask_for_season(app);
    test::await_all(app);
    CHECK(app.start.field_trouble.path.find("name already") != std::string::npos);
    CHECK(start_page_shown(app));
    CHECK(app.log.state().season.name == "U16");
}

TEST_CASE("the start page is reached over any side and page, and Esc goes back to the season") {
    const test::Home home;
    { test::begun(home.season); }
    App app;
    open_season(app, home.season);
    run_command(app, Command::side_season);
    run_command(app, Command::parameters);
    run_command(app, Command::start_page);
    CHECK(app.pages.start);
    CHECK_FALSE(app.pages.parameters);
    CHECK(place_of_keys(app) == Place::start_page);
    run_command(app, Command::new_shot);
    CHECK(app.actions.empty());
    run_command(app, Command::put_down);
    CHECK_FALSE(start_page_shown(app));
    CHECK(app.side == Side::season);
}

TEST_CASE("what was wrong on one side is not told on the next, nor on the start page; good news is") {
    const test::HomeWithSeason home;
    App app;
    open_season(app, home.season);
    tell(app, "Say who answers first.", true);
    run_command(app, Command::side_season);
    CHECK(app.log.state().notice.text.empty());
    tell(app, "That was wrong.", true);
    run_command(app, Command::start_page);
    CHECK(app.log.state().notice.text.empty());
    run_command(app, Command::put_down);
    tell(app, "The reel is made.", false);
    run_command(app, Command::side_log);
    CHECK(app.log.state().notice.text == "The reel is made.");
}

TEST_CASE("what was told of a shot stays on the Log side, and a name chosen takes the refusal away") {
    const test::HomeWithSeason home;
    App app;
    open_season(app, home.season);
    app.log.book->apply(Undo{}, FrameAt{});
    REQUIRE_FALSE(app.log.state().notice.text.empty());
    run_command(app, Command::side_study);
    CHECK(app.log.state().notice.text.empty());
    app.settings.answers_as.clear();
    begin_round(app, "");
    CHECK(app.log.state().notice.text.starts_with("Say who answers first"));
    say_who_answers(app, "Ilse Varga");
    CHECK(app.log.state().notice.text.empty());
}

TEST_CASE("the season that is open, dropped on the start page, is shown again") {
    const test::HomeWithSeason home;
    App app;
    open_season(app, home.season);
    run_command(app, Command::exports);
    run_command(app, Command::start_page);
    CHECK_FALSE(app.exports.open);
    drop_file(app, home.season.string());
    CHECK_FALSE(start_page_shown(app));
    CHECK(app.log.state().notice.text == "This season is open here already.");
}

TEST_CASE("a number chooses nothing that a page, a question or the chooser hides") {
    const test::HomeWithSeason home;
    App app;
    open_season(app, home.season);
    CHECK(numbers_choose(app));
    app.pages.overrule.open = true;
    CHECK(numbers_choose(app));
    run_command(app, Command::choose_season);
    REQUIRE(app.chooser);
    CHECK_FALSE(numbers_choose(app)); // what is typed in its field is no verdict
    run_command(app, Command::put_down);
    for (bool Pages::*page : {&Pages::games, &Pages::parameters, &Pages::what_we_log, &Pages::key_sheet}) {
        app.pages.*page = true;
        CHECK_FALSE(numbers_choose(app));
        app.pages.*page = false;
    }
    app.pages.moving = MovingShot{};
    CHECK_FALSE(numbers_choose(app));
}

TEST_CASE("the number keys open recent seasons; one that is gone is told on the start page, with the season "
          "open still") {
    const test::Home home;
    const auto other = home.folder.path / "other.season";
    { test::begun(home.season); }
    { test::begun(other); }
    App app;
    open_season(app, home.season);
    open_season(app, other);
    REQUIRE(test::stored_settings().recent.size() == 2);
    run_command(app, Command::start_page);
    choose_number(app, 2);
    test::await_all(app);
    CHECK(app.log.book->file().path() == home.season);
    CHECK_FALSE(start_page_shown(app));

    std::filesystem::remove(other);
    run_command(app, Command::start_page);
    test::await_all(app);
    REQUIRE(app.start.there);
    CHECK_FALSE((*app.start.there)[1]);
    choose_number(app, 2);
    test::await_all(app);
    CHECK(start_page_shown(app));
    CHECK(app.start.trouble.find("other.season") != std::string::npos);
    CHECK(app.log.book->file().path() == home.season);
}

TEST_CASE("a season opens again at the game, film, frame and side where it was left") {
    const test::Home home;
    const auto film = home.folder.path / "two.mp4";
    clips::ffmpeg("-f lavfi -i testsrc=size=160x90:rate=30:duration=2 -c:v libx264 -g 30 -pix_fmt yuv420p " +
                  clips::quoted(film.string()));
    {
        LogBook book = test::begun(home.season);
        book.apply(NewGame{"2026-11-27", "Harbour Pike", "North Bay Terns", RuleBookId::nhl}, {});
    }
    Id game, film_id;
    {
        App app;
        open_season(app, home.season);
        app.log.book->apply(ChooseGame{0}, {});
        open_film(app, film.string());
        await_film(app);
        REQUIRE(frames_of(app.stage));
        app.stage.player = at_frame(app.stage.player, 23, *frames_of(app.stage));
        app.side = Side::study;
        game = app.log.state().selection.game_id();
        film_id = app.log.state().selection.film_id();
        note_where_left(app);
        note_opened_well(app);
        save_settings(settings_path(), app.settings);
    }
    App app;
    app.settings = test::stored_settings();
    open_last_season(app);
    await_film(app);
    CHECK(app.settings.recent.front().left.frame == 23);
    CHECK(app.side == Side::study);
    CHECK(app.log.state().selection.game_id() == game);
    CHECK(app.log.state().selection.film_id() == film_id);
    CAPTURE(app.log.state().notice.text);
    CHECK(frames_of(app.stage));
    CHECK(number(app.stage.player.frame) == 23);

    // A game and a film that are gone since are passed over.
    app.settings.recent.front().left.game_id = "none";
    app.log.book->apply(ReopenAt{"none", "none", 7}, {});
    CHECK(app.log.state().selection.game_id() == game);
}

TEST_CASE("a last season that is gone is told in one line, and the start page is there") {
    const test::Home home;
    App app;
    app.settings.last_season = home.folder.path / "gone.season";
    open_last_season(app);
    test::await_all(app);
    CHECK(start_page_shown(app));
    CHECK(app.start.trouble.find("gone.season") != std::string::npos);
    CHECK(app.start.trouble.find('\n') == std::string::npos);
}

TEST_CASE("the practice season leads to a form for one's own, with the practice one still open") {
    const test::Home home;
    const auto practice = home.folder.path / "practice.season";
    { test::begun(practice); }
    App app;
    open_season(app, practice);
    CHECK(is_practice(app));
    app.actions.push_back(MakeOwn{});
    update(app);
    CHECK(start_page_shown(app));
    CHECK(app.start.to_form);
    CHECK(is_practice(app));
}

TEST_CASE("a file picked in the chooser goes where it was asked for") {
    const test::Home home;
    std::ofstream(home.folder.path / "game.mp4") << "film";
    App app;
    test::await_all(app);
    app.actions.push_back(ChooseFile{ChooserFor::new_film});
    test::await_all(app);
    REQUIRE(app.chooser);
    CHECK(place_of_keys(app) == Place::chooser);
    type_anew(app.chooser->chooser, "~/game");
    test::await_all(app);
    app.actions.push_back(EnterChoice{});
    test::await_all(app);
    CHECK_FALSE(app.chooser);
    CHECK(app.start.form.film == "~/game.mp4");

    { test::begun(home.season); }
    run_command(app, Command::choose_season);
    test::await_all(app);
    type_anew(app.chooser->chooser, "~/one.season");
    take_entered(app);
    REQUIRE(app.log.book);
    CHECK(app.log.book->file().path() == home.season);

    std::ofstream(home.folder.path / "no.season") << "no season";
    run_command(app, Command::start_page);
    run_command(app, Command::choose_season);
    test::await_all(app);
    type_anew(app.chooser->chooser, "~/no.season");
    test::await_all(app);
    take_entered(app);
    CHECK(start_page_shown(app));
    CHECK(app.log.state().notice.text.find("no.season") != std::string::npos);
    CHECK(app.start.trouble.empty()); // the page shows the notice, once

    run_command(app, Command::choose_season);
    run_command(app, Command::put_down);
    CHECK_FALSE(app.chooser);
}

TEST_CASE("the window is called by season, game and program") {
    const test::Folder folder;
    CHECK(window_title(nullptr) == "Ropeline");
    const LogBook book = test::begun(folder.path / "a.season");
    CHECK(window_title(&book.state()) ==
          "Test season, 2026-11-20 Harbour Pike - Mill Town Otters - Ropeline");
}

TEST_CASE(
    "the icon is clear at its corners, has a crease, ropes of our colour, and is the same at every size") {
    for (const int size : {16, 48, 128}) {
        const auto rgba = icon_rgba(size);
        REQUIRE(rgba.size() == static_cast<std::size_t>(4 * size * size));
        const auto at = [&](double x, double y) {
            const auto pixel = static_cast<std::size_t>(y * size) * static_cast<std::size_t>(size) +
                               static_cast<std::size_t>(x * size);
            return rgba.data() + 4 * pixel;
        };
        CHECK(at(0.0, 0.0)[3] == 0);
        CHECK(at(0.5, 0.9)[3] == 255);
        CHECK(at(0.30, 0.64)[2] > at(0.30, 0.64)[0]); // paint of the crease is blue
        CHECK(at(0.76, 0.22)[0] > 200);               // the puck stands out
    }
}
