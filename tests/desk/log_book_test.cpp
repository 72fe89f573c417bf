#include "desk/made_book.h"
#include "desk/state/rink_here.h"
#include "season/full_disk.h"

#include <doctest/doctest.h>

#include <cmath>

#include <chrono>
#include <fstream>
#include <thread>

using namespace ropeline;
using namespace ropeline::test;

TEST_CASE("a shot from N to Enter is in the season file, with its depth") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    {
        LogBook book = begun(path);
        fit_still(book, 90);
        REQUIRE(book.state().fits.size() == 1);
        book.apply(NewShot{}, at(100));
        CHECK(book.state().selection.hand() == Hand::first_skate);
        book.apply(FilmClick{seen({0.9, 1.2})}, at(100)); // his right skate first: either order will do
        book.apply(FilmClick{seen({0.5, 1.5})}, at(100));
        CHECK(book.state().selection.hand() == Hand::puck);
        book.apply(FilmClick{seen({5.0, 9.0})}, at(100));
        CHECK(book.state().selection.hand() ==
              Hand::threat); // once, for a pass option; the card goes on without one
        for (const int number : {2, 1, 1, 1, 3})
            book.apply(Choose{number}, at(100));
        book.apply(WriteNote{"late \"read\" <b>"}, at(100));
        book.apply(TakeShot{}, at(100));
        CHECK(book.state().notice.text == "Shot 1 is kept.");
    }
    const SeasonFile file = SeasonFile::open_to_read(path);
    const auto facts = file.shot_facts();
    REQUIRE(facts.size() == 1);
    const ShotFact& fact = facts.front();
    CHECK(fact.goalie == "Ilse Varga");
    CHECK(fact.read == Read::pass);
    CHECK(fact.came == NextAction::shot);
    CHECK(fact.situation == Situation::rush);
    CHECK(fact.strength == Strength::even);
    CHECK(fact.outcome == Outcome::save_rebound);
    CHECK(fact.note == "late \"read\" <b>");
    REQUIRE(fact.goalie_at);
    CHECK(fact.goalie_at->x_m == doctest::Approx(0.7).epsilon(1e-4));
    CHECK(fact.goalie_at->y_m == doctest::Approx(1.35).epsilon(1e-4));
    REQUIRE(fact.depth_m);
    // Depth model: d = G.u with u = P / |P|.
    CHECK(*fact.depth_m == doctest::Approx((0.7 * 5.0 + 1.35 * 9.0) / std::hypot(5.0, 9.0)).epsilon(1e-4));
    REQUIRE(fact.square_error_rad);
    CHECK(std::abs(*fact.square_error_rad) < 0.5); // skates swapped would face the boards behind
}

TEST_CASE("marks made before the rink is fitted get their depth when it is") {
    const Folder folder;
    LogBook book = begun(folder.path / "b.season");
    book.apply(NewShot{}, at(50));
    book.apply(Arm{Hand::goalie}, at(50));
    book.apply(FilmClick{seen({0.4, 1.0})}, at(50));
    book.apply(FilmClick{seen({2.0, 8.0})}, at(50));
    REQUIRE(book.state().shots.size() == 1);
    CHECK_FALSE(main_moment(book.state().shots[0])->reading.has_value());
    fit_still(book, 40);
    REQUIRE(main_moment(book.state().shots[0])->reading.has_value());
    CHECK(main_moment(book.state().shots[0])->reading->depth_m ==
          doctest::Approx((0.8 + 8.0) / std::hypot(2.0, 8.0)).epsilon(1e-4));

    SUBCASE("and lose it again when the fit is undone, nothing else changing") {
        book.apply(Undo{}, at(50));
        CHECK(book.state().fits.empty());
        CHECK_FALSE(main_moment(book.state().shots[0])->reading.has_value());
        book.apply(Redo{}, at(50));
        CHECK(main_moment(book.state().shots[0])->reading.has_value());
    }
}

TEST_CASE("undo takes back one thing at a time, by name") {
    const Folder folder;
    LogBook book = begun(folder.path / "c.season");
    book.apply(NewShot{}, at(10));
    book.apply(ChooseIn{CardField::outcome, 1}, at(10));
    CHECK(book.file().undo_name() == "outcome, shot 1");
    book.apply(Undo{}, at(10));
    CHECK_FALSE(book.state().shots[0].shot.outcome.has_value());
    book.apply(RemoveShot{}, at(10));
    CHECK(book.state().shots.empty());
    book.apply(Undo{}, at(10));
    CHECK(book.state().shots.size() == 1);
}

TEST_CASE("what cannot be done is said, and changes nothing") {
    const Folder folder;
    LogBook book = begun(folder.path / "d.season");
    book.apply(Choose{1}, at(10));
    CHECK(book.state().notice.trouble);
    book.apply(TakeShot{}, at(10));
    book.apply(RemoveShot{}, at(10));
    book.apply(Nudge{0.25, 0.0}, at(10));
    CHECK(book.state().notice.trouble);
    CHECK(book.state().shots.empty());

    book.apply(NewShot{}, at(10));
    book.apply(FilmClick{{-5.0, 100.0}}, at(10));
    CHECK(book.state().notice.trouble);
    CHECK(main_moment(book.state().shots[0])->marks.empty());
    book.apply(Choose{9}, at(10));
    CHECK_FALSE(book.state().shots[0].shot.read.has_value());

    book.apply(NewShot{}, at(10)); // the same frame again
    CHECK(book.state().shots.size() == 1);
    CHECK(book.state().notice.text == "Shot 1 is already at this frame.");
}

TEST_CASE("marks belong to one frame: a click on another goes back there instead") {
    const Folder folder;
    LogBook book = begun(folder.path / "e.season");
    book.apply(NewShot{}, at(20));
    book.apply(FilmClick{{400, 400}}, at(20));
    book.apply(FilmClick{{420, 400}}, at(23));
    CHECK(book.take_jump() == 20);
    CHECK(main_moment(book.state().shots[0])->marks.size() == 1);
    CHECK(main_moment(book.state().shots[0])->frame == 20);
}

TEST_CASE("a film that moved is found again by its content, and its shots stay") {
    const Folder folder;
    LogBook book = begun(folder.path / "f.season");
    book.apply(NewShot{}, at(20));
    FilmFacts moved;
    moved.path = "/elsewhere/renamed.mp4";
    moved.fingerprint = std::string{"f1"};
    moved.file_bytes = 1000;
    moved.shown_width_px = 1280;
    moved.shown_height_px = 720;
    book.apply(KeepFilm{moved, 900}, {});
    REQUIRE(book.state().films.size() == 1);
    CHECK(book.state().films[0].path == "/elsewhere/renamed.mp4");
    CHECK(book.state().shots.size() == 1);
}

TEST_CASE("a season's folder can be moved with its films: what lies in it is kept by its place in there") {
    const Folder folder;
    FilmFacts facts;
    facts.fingerprint = std::string{"f2"};
    facts.shown_width_px = 1280;
    facts.shown_height_px = 720;
    std::filesystem::create_directories(folder.path / "one" / "films");
    std::ofstream{folder.path / "one" / "films" / "second.mp4"} << "film";
    {
        LogBook book = begun(folder.path / "one" / "a.season");
        facts.path = (folder.path / "one" / "films" / "second.mp4").string();
        book.apply(KeepFilm{facts, 900}, {});
        REQUIRE(book.state().films.size() == 2);
        CHECK(book.state().films[1].path == "films/second.mp4");
        CHECK(film_path(book.file(), book.state().films[1]) == facts.path);
        const auto undo = book.file().undo_name();
        book.apply(KeepFilm{facts, 900}, {}); // opened again from there: nothing new
        CHECK(book.state().films.size() == 2);
        CHECK(book.file().undo_name() == undo);
    }
    std::filesystem::rename(folder.path / "one", folder.path / "two");
    const LogBook book{SeasonFile::open(folder.path / "two" / "a.season")};
    CHECK(film_path(book.file(), book.state().films[1]) == folder.path / "two" / "films" / "second.mp4");
    // A film kept by another place is there or nowhere: its namesake in the folder may be another game.
    Film elsewhere;
    elsewhere.path = "/gone/second.mp4";
    CHECK(film_path(book.file(), elsewhere) == "/gone/second.mp4");
}

TEST_CASE("without following, the fit that holds is the last one before the frame, else the first after it") {
    const Folder folder;
    LogBook book = begun(folder.path / "g.season");
    CHECK(fit_here(book.state(), 5).source == FitHere::Source::none);
    fit(book, 100);
    fit(book, 300);
    REQUIRE(book.state().fits.size() == 2);
    CHECK(fit_here(book.state(), 5).key->frame == 100);
    CHECK(fit_here(book.state(), 5).source == FitHere::Source::elsewhere);
    CHECK(fit_here(book.state(), 100).source == FitHere::Source::clicked);
    CHECK(fit_here(book.state(), 299).key->frame == 100);
    CHECK(fit_here(book.state(), 5000).key->frame == 300);
}

TEST_CASE("a frame found by itself stays known where the walk that reaches it later was lost") {
    const Folder folder;
    LogBook book = begun(folder.path / "i.season");
    fit(book, 100);
    const StoredFit key = book.state().fits[0];
    const auto stretch = [&](std::int64_t first, std::int64_t last, CarryState how) {
        StoredCarry carry{key.id, first, {}};
        for (std::int64_t frame = first; frame <= last; ++frame) {
            CarriedFrame one;
            one.state = how;
            one.sigma_m = 0.02;
            one.fit = key.fit;
            carry.frames.push_back(one);
        }
        return carry;
    };
    book.apply(KeepCarry{stretch(80, 120, CarryState::held)}, at(110));
    book.apply(KeepCarry{stretch(150, 150, CarryState::held)}, at(110));
    CHECK(fit_here(book.state(), 150).source == FitHere::Source::carried);
    CHECK(fit_here(book.state(), 149).source == FitHere::Source::elsewhere);
    auto known = known_stretch(book.state(), key);
    REQUIRE(known);
    CHECK(known->first == 80);
    CHECK(known->last == 120); // what was found beyond does not join
    REQUIRE(known->near_last);
    CHECK(known->near_last->frame == 120);

    book.apply(KeepCarry{stretch(121, 160, CarryState::lost)}, at(110));
    CHECK(fit_here(book.state(), 150).source == FitHere::Source::carried);
    CHECK(fit_here(book.state(), 149).source == FitHere::Source::lost);
    CHECK(book.state().carries.size() == 2);
    book.apply(KeepCarry{stretch(121, 121, CarryState::held)}, at(110)); // within, and on its first frame
    CHECK(fit_here(book.state(), 121).source == FitHere::Source::carried);
    CHECK(fit_here(book.state(), 149).source == FitHere::Source::lost);
    CHECK(book.state().carries.size() == 2);
    CHECK(book.file().carries_of(key).size() == 2);
    known = known_stretch(book.state(), key);
    REQUIRE(known);
    CHECK(known->last == 160);
    CHECK(known->near_last->frame == 150);
}

TEST_CASE("a fit that was followed holds frame by frame; where it was lost nothing is measured") {
    const Folder folder;
    const auto path = folder.path / "h.season";
    {
        LogBook book = begun(path);
        fit(book, 100);
        const StoredFit key = book.state().fits[0];
        book.apply(NewShot{}, at(110));
        book.apply(FilmClick{seen({0.4, 1.5})}, at(110));
        book.apply(FilmClick{seen({0.0, 1.5})}, at(110));
        book.apply(FilmClick{seen({0.0, 9.0})}, at(110));
        StoredCarry carry{key.id, 100, {}};
        for (int frame = 100; frame <= 130; ++frame) {
            CarriedFrame one;
            one.state = frame < 120 ? CarryState::held : CarryState::lost;
            one.sigma_m = 0.02;
            one.fit = key.fit;
            one.fit.image_from_ice[2] -= 2.0 * (frame - 100); // the picture slides by two pixels a frame
            carry.frames.push_back(one);
        }
        const auto undo_before = book.file().undo_name();
        book.apply(KeepCarry{carry}, at(110));
        CHECK(book.file().undo_name() == undo_before); // background work is not a change of the coach's
        CHECK(fit_here(book.state(), 110).source == FitHere::Source::carried);
        CHECK(fit_here(book.state(), 125).source == FitHere::Source::lost);
        CHECK(fit_here(book.state(), 200).source == FitHere::Source::elsewhere);
        CHECK(main_moment(book.state().shots[0])->reading.has_value());
        CHECK(main_moment(book.state().shots[0])->rink_fit_id !=
              key.id); // a row of its own, for its own frame
        const Mark* puck = find_mark(*main_moment(book.state().shots[0]), MarkKind::puck);
        const auto there = ice_at(book.state().carries[0].at(110).fit, *puck->at);
        CHECK(puck->ice->x_m == doctest::Approx(there->x_m));
        CHECK(puck->ice->y_m == doctest::Approx(there->y_m));
        CHECK(std::hypot(puck->ice->x_m, puck->ice->y_m - 9.0) > 0.1); // where it was taken to lie before

        book.apply(TakeShot{}, at(110));
        book.apply(NewShot{}, at(125));
        book.apply(FilmClick{{600, 500}}, at(125));
        CHECK(book.state().notice.text.find("lost") != std::string::npos);
        CHECK_FALSE(find_mark(*main_moment(book.state().shots[1]), MarkKind::skate_left)->ice.has_value());
    }
    LogBook again{SeasonFile::open(path)};
    CHECK(again.state().carries.size() == 1);
    CHECK(fit_here(again.state(), 110).source == FitHere::Source::carried);
    CHECK(clicked_fits(again.state()).size() == 1);
}

TEST_CASE(
    "a mark outside the boards and a shot without a picture are refused with a line, and nothing is kept") {
    const Folder folder;
    LogBook book = begun(folder.path / "off_the_ice.season");
    fit_still(book, 90);
    FrameAt no_picture = at(95);
    no_picture.image = {};
    book.apply(NewShot{}, no_picture);
    CHECK(book.state().notice.trouble);
    CHECK(book.state().shots.empty());
    book.apply(NewShot{}, at(100));
    int refused = 0;
    for (const IcePoint off : {IcePoint{-15.5, 3.0}, IcePoint{2.0, -6.5}, IcePoint{15.5, 12.0}}) {
        CAPTURE(off.x_m);
        if (!in_picture(seen(off), {1280, 720})) continue;
        book.apply(FilmClick{seen(off)}, at(100));
        CHECK(book.state().notice.text ==
              "That point lies outside the boards: click where the skate or the puck touches the ice.");
        CHECK(moment_in_hand(book.state())->marks.empty());
        ++refused;
    }
    CHECK(refused > 0);
    book.apply(FilmClick{seen({-12.0, 3.0})}, at(100)); // along the boards, on the ice
    CHECK(moment_in_hand(book.state())->marks.size() == 1);
}

TEST_CASE("a shot the disk did not take is gone from the book again, and the notice says why") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = begun(path);
    fit_still(book, 90);
    book.apply(NewShot{}, at(100));
    book.commit_in_background();
    {
        const sample::FullDisk full{std::filesystem::file_size(path)};
        book.apply(WriteNote{std::string(19000, 'n')}, at(100));
        CHECK(book.state().shots[0].shot.note.size() == 19000);
        bool told = book.start_commit();
        for (int waited = 0; waited < 1000 && !told; ++waited) {
            std::this_thread::sleep_for(std::chrono::milliseconds{5});
            told = book.start_commit();
        }
        CHECK(told);
        CHECK(book.state().notice.trouble);
        CHECK(book.state().notice.text.find("the last change was not kept") != std::string::npos);
        CHECK(book.state().shots[0].shot.note.empty());
        CHECK(chosen_index(book.state()) == 0);
        CHECK_FALSE(book.start_commit());

        // A fit waits for the disk: its clicks stay in the hand.
        book.apply(BeginFit{}, at(90));
        REQUIRE(book.state().selection.fit());
        const sample::FullDisk fuller{std::filesystem::file_size(path) / 2};
        book.apply(KeepFit{}, at(90));
        CHECK(book.state().selection.fit());
        CHECK(book.state().notice.trouble);
    }
    book.apply(KeepFit{}, at(90));
    CHECK_FALSE(book.state().selection.fit());
    book.apply(WriteNote{"there is room"}, at(100));
    CHECK_FALSE(book.start_commit());
    CHECK(book.state().shots[0].shot.note == "there is room");
}
