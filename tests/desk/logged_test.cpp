// What a coach logs beside the card's own lines: keys, card lines, words, the list's filter.
#include "desk/made_book.h"
#include "desk/state/shot_list.h"

#include <doctest/doctest.h>

using namespace ropeline;
using namespace ropeline::test;

namespace {

/// Two shots on the film, the first one open, with a goalie, the puck and two opponents marked.
struct Two {
    Folder folder;
    LogBook book = begun(folder.path / "a.season");

    Two() {
        fit(book, 90);
        book.apply(NewShot{}, at(200));
        book.apply(PutDown{}, at(200));
        book.apply(NewShot{}, at(100));
        book.apply(Arm{Hand::goalie}, at(100));
        book.apply(FilmClick{seen({0.5, 1.5})}, at(100));
        book.apply(Arm{Hand::puck}, at(100));
        book.apply(FilmClick{seen({5.0, 9.0})}, at(100));
        for (const IcePoint receiver : {IcePoint{-4.0, 6.0}, IcePoint{0.0, 7.0}}) {
            book.apply(Arm{Hand::threat}, at(100));
            book.apply(FilmClick{seen(receiver)}, at(100));
        }
    }

    const Shot& shot() const { return chosen_shot(book.state())->shot; }
    const Moment& moment() const { return *moment_in_hand(book.state()); }
    bool took(std::size_t mark) const { return moment().marks.at(mark).took; }
};

} // namespace

TEST_CASE("one key on the receiver in hand says that he got the pass, and only one of them can have it") {
    Two two;
    REQUIRE(two.moment().marks.size() == 4);
    two.book.apply(HoldMark{2}, at(100));
    two.book.apply(TurnThreat{.took = true}, at(100));
    CHECK(two.took(2));
    two.book.apply(HoldMark{3}, at(100));
    two.book.apply(TurnThreat{.took = true}, at(100));
    CHECK_FALSE(two.took(2));
    CHECK(two.took(3));
    two.book.apply(Undo{}, at(100));
    CHECK(two.took(2));
    CHECK_FALSE(two.took(3));
    two.book.apply(HoldMark{2}, at(100));
    two.book.apply(TurnThreat{.took = true}, at(100));
    CHECK_FALSE(two.took(2));
}

TEST_CASE("one key goes through the choices of a moment's detail and ends where it began") {
    Two two;
    for (const std::string_view expected : {"set", "moving", ""}) {
        two.book.apply(TurnDetail{Detail::feet}, at(100));
        CHECK(key_of(two.moment().details, Detail::feet) == expected);
    }
    two.book.apply(TurnDetail{Detail::sight}, at(100));
    CHECK(two.book.state().notice.text == "sight: clear.");
    two.book.apply(Undo{}, at(100));
    CHECK(two.moment().details == Details{});
}

TEST_CASE("without an open shot the keys say in one line what to do") {
    Folder folder;
    LogBook book = begun(folder.path / "a.season");
    const std::array<LogAction, 5> all = {TurnThreat{.took = true}, TurnDetail{Detail::feet},
                                          TurnDetail{Detail::shot_type}, JoinRebound{},
                                          WriteShotText{ShotText::drill, "x"}};
    for (const LogAction& action : all) {
        book.apply(action, at(100));
        CHECK(book.state().notice.trouble);
        CHECK_FALSE(book.state().notice.text.empty());
        CHECK(book.state().notice.text.find('\n') == std::string::npos);
    }
}

TEST_CASE("the card asks what it always asked until a season switches more on, and undo takes that back") {
    Two two;
    const auto shown = [&] { return shown_fields(two.book.state().asks); };
    CHECK(shown().size() == 6);
    two.book.apply(TurnAsk{"net_place"}, at(100));
    two.book.apply(TurnAsk{"sight"}, at(100));
    two.book.apply(TurnAsk{"no such field"}, at(100));
    REQUIRE(shown().size() == 8);
    CHECK(label_of(shown()[6]) == "sight");
    CHECK(label_of(shown()[7]) == "puck went");
    two.book.apply(Focus{CardField::cues}, at(100));
    two.book.apply(FocusBy{1}, at(100));
    CHECK(two.book.state().field == card_field(Detail::sight));
    two.book.apply(FocusBy{1}, at(100));
    CHECK(two.book.state().field == card_field(Detail::net_place));
    two.book.apply(Choose{4}, at(100));
    CHECK(key_of(two.shot().details, Detail::net_place) == "low_glove");
    two.book.apply(FocusBy{1}, at(100));
    CHECK(two.book.state().field == CardField::read);
    CHECK(two.book.state().asks.contains("net_place"));
    two.book.apply(Undo{}, at(100));
    CHECK(key_of(two.shot().details, Detail::net_place).empty());
    two.book.apply(Undo{}, at(100));
    CHECK_FALSE(two.book.state().asks.contains("sight"));
}

TEST_CASE("a click on the net says where the puck went, by the goalie's own glove") {
    const auto place = [](double across, double up, std::string_view catches) {
        Details details;
        details.set(Detail::net_place, net_place_at(across, up, catches));
        return std::string{key_of(details, Detail::net_place)};
    };
    // Who catches left has his glove on the shooter's right.
    CHECK(place(0.9, 0.8, "left") == "high_glove");
    CHECK(place(0.5, 0.8, "left") == "high_middle");
    CHECK(place(0.1, 0.8, "left") == "high_blocker");
    CHECK(place(0.9, 0.2, "left") == "low_glove");
    CHECK(place(0.1, 0.2, "left") == "low_blocker");
    CHECK(place(0.1, 0.8, "right") == "high_glove");
    CHECK(place(0.9, 0.2, "right") == "low_blocker");
    CHECK(place(0.5, 0.0, "right") == "low_middle");
    CHECK(place(1.0, 1.0, "") == "high_glove"); // most goalies catch left
    CHECK(place(-0.1, 1.2, "left") == "high_blocker");
}

TEST_CASE("what a season asks for besides leaves a shot as complete as it was") {
    Two two;
    const auto before = open_fields(*chosen_shot(two.book.state()));
    two.book.apply(TurnAsk{"net_place"}, at(100));
    CHECK(open_fields(*chosen_shot(two.book.state())) == before);
}

TEST_CASE("a rebound is joined to the next shot of the film, and none later is said") {
    Two two;
    two.book.apply(JoinRebound{}, at(100));
    CHECK(two.shot().rebound_shot_id == two.book.state().shots[1].shot.id);
    CHECK(two.book.state().notice.text == "Its rebound led to shot 2.");
    two.book.apply(PickShot{1}, at(200));
    two.book.apply(JoinRebound{}, at(200));
    CHECK(two.book.state().notice.trouble);
    CHECK(two.shot().rebound_shot_id.empty());
    two.book.apply(PickShot{0}, at(100));
    two.book.apply(JoinRebound{}, at(100));
    CHECK(two.shot().rebound_shot_id.empty());
}

TEST_CASE("tags, drill and number are kept as typed, a number that is none is refused and nothing lost") {
    Two two;
    two.book.apply(WriteShotText{ShotText::tags, " scramble, back door ,,scramble"}, at(100));
    CHECK(two.shot().tags == std::vector<std::string>{"back door", "scramble"});
    CHECK(two.book.state().tags == two.shot().tags);
    two.book.apply(WriteShotText{ShotText::drill, "T-pushes"}, at(100));
    two.book.apply(WriteShotText{ShotText::shooter_number, "19"}, at(100));
    CHECK(two.shot().shooter_number == 19);
    for (const char* wrong : {"100", "-1", "7a", "nine"}) {
        two.book.apply(WriteShotText{ShotText::shooter_number, wrong}, at(100));
        CHECK(two.book.state().notice.trouble);
        CHECK(two.shot().shooter_number == 19);
    }
    two.book.apply(WriteShotText{ShotText::shooter_number, ""}, at(100));
    CHECK_FALSE(two.shot().shooter_number);
    for (int step = 0; step < 3; ++step)
        two.book.apply(Undo{}, at(100));
    CHECK(two.shot().drill.empty());
    CHECK(two.shot().tags.size() == 2);
}

TEST_CASE("a tag is completed to the first known one that begins as typed, whatever its capitals") {
    const std::vector<std::string> known = {"back door", "Scramble", "screen"};
    CHECK(completed_tags(known, "sc") == "Scramble");
    CHECK(completed_tags(known, "back door, scre") == "back door, screen");
    CHECK(completed_tags(known, "back door, x") == "back door, x");
    CHECK(completed_tags(known, "") == "");
    CHECK(completed_tags(known, "screen, ") == "screen, ");
}

TEST_CASE("the list finds shots by tag, detail, drill and who tagged them") {
    Two two;
    two.book.apply(NameReviewer{" Ada Lind "}, at(100));
    two.book.apply(WriteShotText{ShotText::tags, "back door"}, at(100));
    two.book.apply(TurnDetail{Detail::sight}, at(100));
    two.book.apply(TurnDetail{Detail::sight}, at(100));
    two.book.apply(NewShot{}, at(300));
    CHECK(two.shot().tagged_by == "Ada Lind");
    const auto found = [&](const char* filter) {
        two.book.apply(FilterList{filter}, at(100));
        return listed_shots(two.book.state());
    };
    CHECK(found("door") == std::vector<std::size_t>{0});
    CHECK(found("screened") == std::vector<std::size_t>{0});
    CHECK(found("ada") == std::vector<std::size_t>{2});
    CHECK(found("drill").empty());
}

TEST_CASE(
    "a goalie's own lateral speed is what his moments are worked out with, until another one was in net") {
    Two two;
    const auto to_spare = [&] {
        return two.moment().marks.at(2).pass->spare_s - two.moment().marks.at(2).pass->late_s;
    };
    const double usual = to_spare();
    const Id own = two.book.state().goalies.at(0).id;
    two.book.apply(MeasureGoalie{own, std::nullopt, std::nullopt, 1.0}, at(100));
    const double slow = to_spare();
    CHECK(slow < usual);
    two.book.apply(Undo{}, at(100));
    CHECK(to_spare() == doctest::Approx(usual).epsilon(1e-12));
    two.book.apply(Redo{}, at(100));
    CHECK(to_spare() == doctest::Approx(slow).epsilon(1e-12));
    two.book.apply(NewGoalie{"Zoë Otero", "Harbour Pike"}, at(100));
    two.book.apply(PickGoalie{two.book.state().goalie_id}, at(100));
    REQUIRE(two.shot().goalie_id != own);
    CHECK(to_spare() == doctest::Approx(usual).epsilon(1e-12));
}

TEST_CASE("a goalie's own figures are kept, and one that cannot be is refused in one line") {
    Two two;
    const Id id = two.book.state().goalies.at(0).id;
    two.book.apply(MeasureGoalie{id, 1.88, std::nullopt, 3.2}, at(100));
    CHECK(two.book.state().goalies[0].height_m == 1.88);
    two.book.apply(MeasureGoalie{id, 18.8, std::nullopt, 3.2}, at(100));
    CHECK(two.book.state().notice.trouble);
    CHECK(two.book.state().notice.text.find("height") != std::string::npos);
    CHECK(two.book.state().goalies[0].height_m == 1.88);
    two.book.apply(Undo{}, at(100));
    CHECK_FALSE(two.book.state().goalies[0].height_m);
}
