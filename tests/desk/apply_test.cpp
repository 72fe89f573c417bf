// One way for a change to come into the season: whatever goes wrong there is one line, and the desk goes on.
#include "desk/made_book.h"

#include "desk/state/changes/play_figures.h"
#include "desk/state/rink_here.h"
#include "desk/state/shot_list.h"
#include "season/full_disk.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <new>
#include <set>
#include <thread>

using namespace ropeline;
using namespace ropeline::test;

namespace {

void check_told(const LogBook& book) {
    const Notice& notice = book.state().notice;
    CAPTURE(notice.text);
    CHECK(notice.trouble);
    CHECK_FALSE(notice.text.empty());
    CHECK(notice.text.find('\n') == std::string::npos);
    for (const char* sql : {"CHECK", "constraint", "SELECT", "INSERT", "length("})
        CHECK(notice.text.find(sql) == std::string::npos);
}

void mark(LogBook& book, std::int64_t frame, IcePoint goalie, IcePoint puck) {
    book.apply(NewShot{}, at(frame));
    book.apply(Arm{Hand::goalie}, at(frame));
    book.apply(FilmClick{seen(goalie)}, at(frame));
    book.apply(FilmClick{seen(puck)}, at(frame));
}

/// The fit of a camera whose picture has slid to the right.
RinkFit slid(RinkFit fit, double by_px) {
    for (std::size_t column = 0; column < 3; ++column)
        fit.image_from_ice[column] += by_px * fit.image_from_ice[6 + column];
    for (std::size_t row = 0; row < 3; ++row)
        fit.ice_from_image[3 * row + 2] -= by_px * fit.ice_from_image[3 * row];
    return fit;
}

/// The fit carried over frames 100 to 130 by a camera that had slid at once.
StoredCarry carry_of(const StoredFit& key, double by_px) {
    StoredCarry carry{key.id, 100, {}};
    for (int frame = 100; frame <= 130; ++frame) {
        CarriedFrame one;
        one.state = CarryState::held;
        one.sigma_m = 0.02;
        one.fit = frame == 100 ? key.fit : slid(key.fit, by_px);
        carry.frames.push_back(one);
    }
    return carry;
}

/// A camera low behind the net with the horizon in its picture, 100 pixels from the top.
ImagePoint seen_low(IcePoint at) {
    const double w = 1.0 + 0.05 * at.y_m;
    return {(640.0 + 38.0 * at.x_m + 32.0 * at.y_m) / w, (600.0 + 5.0 * at.y_m) / w};
}

void fit_low(LogBook& book, std::int64_t frame) {
    book.apply(BeginFit{}, at(frame));
    for (int offer = 0; offer < 60 && book.state().selection.fit()->clicks.size() < 6; ++offer) {
        const auto landmark =
            find_landmark(rule_book(RuleBookId::nhl), book.state().selection.fit()->offered);
        if (landmark && in_picture(seen_low(landmark->at), {1280, 720})) {
            book.apply(FilmClick{seen_low(landmark->at)}, at(frame));
        } else {
            book.apply(OfferOther{}, at(frame));
        }
    }
    book.apply(KeepFit{}, at(frame));
    follow_still(book);
}

double depth_m(const LogBook& book) {
    const Moment* moment = main_moment(book.state().shots.at(0));
    REQUIRE(moment->reading);
    return moment->reading->depth_m;
}

} // namespace

TEST_CASE("names and notes longer than a season holds are told, and nothing is lost") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    const auto goalies = book.state().goalies.size();
    book.apply(NewGoalie{std::string(520, 'g'), "Harbour Pike"}, at(0));
    check_told(book);
    CHECK(book.state().notice.text.find("more than 500 letters") != std::string::npos);
    CHECK(book.state().goalies.size() == goalies);
    book.apply(NewGoalie{"Runa Holt", std::string(501, 't')}, at(0));
    check_told(book);
    book.apply(NewGame{"2026-11-21", std::string(501, 'h'), "Otters", RuleBookId::nhl}, at(0));
    check_told(book);
    book.apply(NewGame{"yesterday", "Harbour Pike", "Otters", RuleBookId::nhl}, at(0));
    check_told(book);
    CHECK(book.state().games.size() == 1);
    book.apply(NewShot{}, at(10));
    book.apply(WriteNote{std::string(20001, 'n')}, at(10));
    check_told(book);
    CHECK(book.state().shots[0].shot.note.empty());
    book.apply(Overrule{Verdict::off_angle, std::string(20001, 'r')}, at(10));
    check_told(book);
    CHECK_FALSE(main_moment(book.state().shots[0])->overruled);
    std::string umlauts; // characters count, not bytes
    for (int letter = 0; letter < 500; ++letter)
        umlauts += "ö";
    book.apply(NewGoalie{umlauts, "Harbour Pike"}, at(10));
    CHECK(book.state().goalies.size() == goalies + 1);
}

TEST_CASE("a value that the season refuses is one line without its rules, and the book is as it was") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    book.apply(NewShot{}, at(10));
    book.apply(PutClock{77, 600.0}, at(10)); // no game has 77 periods
    check_told(book);
    CHECK_FALSE(book.state().shots[0].shot.period);
    book.apply(PickGoalie{"nobody"}, at(10));
    check_told(book);
    CHECK(book.state().shots[0].shot.goalie_id == book.state().goalies[0].id);
    book.apply(KeepAnswer{Answer{
                   {}, "no moment", book.state().goalie_id, "2026-11-25T14:03:00Z", {}, {}, {}, {}, {}, {}}},
               at(10));
    check_told(book);
    book.apply(ChooseIn{CardField::outcome, 1}, at(10));
    CHECK(book.state().shots[0].shot.outcome == Outcome::goal);
}

TEST_CASE("memory that runs out, or anything else thrown in a change, is told and nothing of it stands") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    mark(book, 100, {0.4, 1.2}, {4.0, 9.0});
    const double before = book.state().season.parameters.lateral_speed_mps;
    book.report_progress([](double) { throw std::bad_alloc{}; });
    book.apply(SetParameter{"lateral_speed_mps", 2.4}, at(100));
    check_told(book);
    CHECK(book.state().season.parameters.lateral_speed_mps == before);
    book.report_progress([](double) { throw std::runtime_error("two\nlines"); });
    book.apply(SetParameter{"lateral_speed_mps", 2.4}, at(100));
    check_told(book);
    CHECK(book.file().season().parameters.lateral_speed_mps == before);
    book.report_progress(
        [&](double) { book.apply(RemoveShot{.whole = true}, at(100)); }); // from a turn meanwhile
    book.apply(SetParameter{"lateral_speed_mps", 2.6}, at(100));
    CHECK(book.state().shots.size() == 1);
    book.report_progress({});
    book.apply(SetParameter{"lateral_speed_mps", 2.4}, at(100));
    CHECK(book.state().season.parameters.lateral_speed_mps == 2.4);
}

TEST_CASE("a commit that failed in the background is told at the next change, and the book is as the file") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = begun(path);
    book.apply(NewShot{}, at(100));
    book.commit_in_background();
    {
        const sample::FullDisk full{std::filesystem::file_size(path)};
        book.apply(WriteNote{std::string(19000, 'n')}, at(100));
        book.start_commit(); // on its way
        book.apply(ChooseIn{CardField::outcome, 1}, at(100));
        check_told(book);
        CHECK(book.state().shots[0].shot.note.empty());
        CHECK_FALSE(book.state().shots[0].shot.outcome);
        book.apply(WriteNote{std::string(19000, 'n')}, at(100));
        CHECK(book.wait_for_commit());
        check_told(book);
        CHECK(book.state().shots[0].shot.note.empty());
    }
    book.apply(WriteNote{"there is room"}, at(100));
    CHECK_FALSE(book.wait_for_commit());
    CHECK(SeasonFile::open_to_read(path).shot_facts().at(0).note == "there is room");
}

TEST_CASE("an undo never brings back the depth of a fit that is gone") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    double carried = 0.0;
    {
        LogBook book = begun(path);
        fit(book, 100);
        mark(book, 110, {0.4, 1.5}, {0.0, 9.0});
        CHECK_FALSE(main_moment(book.state().shots[0])->reading); // not followed there yet
        book.apply(ChooseIn{CardField::came, 1}, at(110));
        book.apply(KeepCarry{carry_of(book.state().fits[0], 60.0)}, at(110));
        carried = depth_m(book);
        book.apply(Undo{}, at(110));
        CHECK_FALSE(book.state().shots[0].shot.came);
        CHECK(depth_m(book) == doctest::Approx(carried).epsilon(1e-6));
        book.apply(Redo{}, at(110));
        CHECK(book.state().shots[0].shot.came == NextAction::shot);
        CHECK(depth_m(book) == doctest::Approx(carried).epsilon(1e-6));
        book.apply(Undo{}, at(110));
    }
    const SeasonFile file = SeasonFile::open_to_read(path);
    CHECK(*file.shot_facts().at(0).depth_m == doctest::Approx(carried).epsilon(1e-6));
    const auto moment = file.moments(file.shot_facts().at(0).shot_id).at(0);
    const auto fits = file.rink_fits(moment.film_id);
    const auto named = std::ranges::find(fits, moment.rink_fit_id, &StoredFit::id);
    REQUIRE(named != fits.end());
    CHECK(named->frame == 110); // the carried one
}

TEST_CASE("the same on a film that is not on screen") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    fit(book, 100);
    mark(book, 110, {0.4, 1.5}, {0.0, 9.0});
    book.apply(ChooseIn{CardField::came, 1}, at(110));
    book.apply(KeepCarry{carry_of(book.state().fits[0], 60.0)}, at(110));
    const double carried = depth_m(book);
    FilmFacts facts;
    facts.path = "/films/two.mp4";
    facts.fingerprint = "two";
    facts.shown_width_px = 1280;
    facts.shown_height_px = 720;
    book.apply(KeepFilm{facts, 900}, {}); // is on screen then
    CHECK(film_number(book.state(), open_film(book.state())) == 2);
    book.apply(Undo{}, at(0)); // the film
    book.apply(KeepFilm{facts, 900}, {});
    book.apply(PickShot{0}, at(0));
    book.apply(ChooseIn{CardField::situation, 1}, at(110));
    book.apply(ShowFilm{1}, at(110));
    book.apply(Undo{}, at(0)); // the situation
    book.apply(Undo{}, at(0)); // the second film
    book.apply(Undo{}, at(0)); // what came, chosen before the fit was followed there
    CHECK_FALSE(book.state().shots[0].shot.came);
    CHECK(depth_m(book) == doctest::Approx(carried).epsilon(1e-6));
}

TEST_CASE(
    "a mark that would lie far off near the horizon is told when it is placed, dragged or nudged there") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    fit_low(book, 90);
    REQUIRE(book.state().fits.size() == 1);
    book.apply(NewShot{}, at(100));
    book.apply(Arm{Hand::goalie}, at(100));
    book.apply(FilmClick{seen_low({0.4, 1.2})}, at(100));
    const ImagePoint far_off = seen_low({0.0, 300.0});
    REQUIRE(in_picture(far_off, {1280, 720}));
    book.apply(FilmClick{far_off}, at(100));
    check_told(book);
    CHECK(book.state().notice.text.starts_with("That point lies outside the boards"));
    CHECK(main_moment(book.state().shots[0])->marks.size() == 1);
    book.apply(FilmClick{seen_low({4.0, 9.0})}, at(100));
    const double depth = depth_m(book);
    book.apply(DragMark{1, far_off, false}, at(100)); // on the way there
    book.apply(DragMark{1, far_off, true}, at(100));
    check_told(book);
    CHECK(book.state().notice.text.starts_with("That point lies outside the boards"));
    CHECK(depth_m(book) == depth);
    CHECK(main_moment(book.state().shots[0])->marks[1].at->x_px ==
          doctest::Approx(seen_low({4.0, 9.0}).x_px).epsilon(1e-9));
    book.apply(ChooseIn{CardField::outcome, 1}, at(100));
    CHECK(book.state().shots[0].shot.outcome == Outcome::goal);
}

TEST_CASE("a fit by which an earlier mark lies far off is kept, and says which shot to look at") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = begun(path);
    book.apply(NewShot{}, at(100));
    book.apply(Arm{Hand::goalie}, at(100));
    book.apply(FilmClick{seen_low({0.4, 1.2})}, at(100));
    book.apply(FilmClick{seen_low({0.0, 300.0})}, at(100)); // with no fit there is nothing to tell by
    fit_low(book, 100);
    CHECK_FALSE(book.state().selection.fit());
    CHECK(SeasonFile::open_to_read(path).rink_fits(open_film(book.state())).size() == 1);
    CHECK(book.state().notice.text.find("shot 1") != std::string::npos);
    const Moment* moment = main_moment(book.state().shots[0]);
    CHECK(find_mark(*moment, MarkKind::goalie)->ice);
    CHECK_FALSE(find_mark(*moment, MarkKind::puck)->ice);
    CHECK(find_mark(*moment, MarkKind::puck)->at);
}

TEST_CASE("a carry measures only the moments of its frames: where the rink was not followed, nothing is") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    fit(book, 100);
    mark(book, 110, {0.4, 1.5}, {0.0, 9.0});
    mark(book, 400, {0.4, 1.5}, {0.0, 9.0});
    const std::uint64_t before = book.state().revision;
    const auto rinks = rink_of_moments(book.state());
    book.apply(KeepCarry{carry_of(book.state().fits[0], 60.0)}, at(110));
    CHECK(book.state().revision > before);
    CHECK(with_another_rink(rinks, book.state()) == std::set<Id>{main_moment(book.state().shots[0])->id});
    CHECK(fit_here(book.state(), 110).source == FitHere::Source::carried);
    CHECK(fit_here(book.state(), 400).source == FitHere::Source::elsewhere);
    CHECK(main_moment(book.state().shots[1])->rink_fit_id.empty());
    CHECK(main_moment(book.state().shots[0])->reading);
    CHECK_FALSE(main_moment(book.state().shots[1])->reading);
    CHECK_FALSE(find_mark(*main_moment(book.state().shots[1]), MarkKind::goalie)->ice);
    CHECK(find_mark(*main_moment(book.state().shots[1]), MarkKind::goalie)->at); // its pixels are kept
    CHECK(waits_for_rink(*main_moment(book.state().shots[1])));
    CHECK_FALSE(waits_for_rink(*main_moment(book.state().shots[0])));
}
