#include "desk/state/study.h"
#include "desk/state/study_sum.h"
#include "desk/state/study_words.h"

#include "season/clock_words.h"
#include "season/come_back.h"
#include "season/dates.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>

using namespace ropeline;

namespace {

ShotFact fact(const char* date, Read read, NextAction came, Verdict verdict) {
    ShotFact one;
    one.shot_id = std::string("shot ") + date;
    one.moment_id = std::string("moment ") + date;
    one.moment_kind = MomentKind::release;
    one.goalie_id = "goalie";
    one.game_date = date;
    one.film_id = "film";
    one.read = read;
    one.came = came;
    one.depth_m = 1.2;
    one.verdict = verdict;
    return one;
}

const std::set<Id> films = {"film"};

StudyQueue queue_of(const std::vector<ShotFact>& facts, const StudyFilter& filter,
                    const std::map<Id, AnsweredSoFar>& so_far = {}, const std::string& day = "2026-11-27") {
    return study_queue(decisions_of(facts, films), filter, so_far, day);
}

std::set<Id> asked(const StudyQueue& queue) {
    std::set<Id> ids;
    for (const StudyDecision& one : queue.decisions)
        ids.insert(one.moment_id);
    return ids;
}

Answer answer(const Id& moment, const std::string& at, std::optional<bool> call, std::optional<bool> place) {
    Answer one;
    one.moment_id = moment;
    one.answered_by = "Ilse Tamm";
    one.answered_at = at;
    one.read = Read::shot;
    one.call_right = call;
    one.place_right = place;
    return one;
}

} // namespace

TEST_CASE("the queue of what was wrong in the game: misread ones and those not at the right depth") {
    const std::vector<ShotFact> facts = {
        fact("2026-10-01", Read::shot, NextAction::shot, Verdict::right_depth),
        fact("2026-10-08", Read::shot, NextAction::pass, Verdict::over_challenged),
        fact("2026-10-15", Read::pass, NextAction::shot, Verdict::sat_back),
        fact("2026-10-22", Read::shot, NextAction::shot, Verdict::off_angle),
        fact("2026-10-29", Read::shot, NextAction::carry, Verdict::not_judged)};
    const auto all = decisions_of(facts, films);
    CHECK(std::ranges::count_if(all, misread_in_game) == 2);
    CHECK(std::ranges::count_if(all, wrong_in_game) == 3);
    StudyFilter filter;
    filter.what = StudyWhat::wrong_in_game;
    const StudyQueue wrong = queue_of(facts, filter);
    // Two misread, one of the others read right: one more that was read right makes them as many.
    CHECK(wrong.mixed_in == 1);
    CHECK(asked(wrong) ==
          std::set<Id>{"moment 2026-10-01", "moment 2026-10-08", "moment 2026-10-15", "moment 2026-10-22"});
    filter.what = StudyWhat::all;
    CHECK(queue_of(facts, filter).decisions.size() == 5);
    filter.goalie_id = "somebody else";
    CHECK(queue_of(facts, filter).decisions.empty());
}

TEST_CASE(
    "in a list of what was wrong a read says nothing of what came, as far as there are right reads at all") {
    std::vector<ShotFact> facts;
    for (int index = 0; index < 40; ++index)
        facts.push_back(fact(fmt::format("2026-01-{:02}", index + 1).c_str(), Read::shot,
                             index < 15 ? NextAction::pass : NextAction::shot, Verdict::right_depth));
    StudyFilter filter;
    filter.what = StudyWhat::wrong_in_game;
    const StudyQueue queue = queue_of(facts, filter);
    CHECK(std::ranges::count_if(queue.decisions, misread_in_game) == 15);
    CHECK(queue.decisions.size() == 30);
    // Mixed, not one after the other: among the first half are some of both.
    const auto half = std::span{queue.decisions}.first(15);
    CHECK(std::ranges::count_if(half, misread_in_game) > 2);
    CHECK(std::ranges::count_if(half, misread_in_game) < 13);
}

TEST_CASE("the reviewer's verdict decides whether a decision was wrong") {
    ShotFact one = fact("2026-10-01", Read::shot, NextAction::shot, Verdict::sat_back);
    CHECK(wrong_in_game(decisions_of({{one}}, films)[0]));
    one.overruled = Verdict::right_depth;
    CHECK_FALSE(wrong_in_game(decisions_of({{one}}, films)[0]));
}

TEST_CASE(
    "a play that was passed has two decisions: at the pass, which the read was about, and at the shot") {
    ShotFact one = fact("2026-10-01", Read::shot, NextAction::pass, Verdict::right_depth);
    REQUIRE(decisions_of({{one}}, films).size() == 1);
    CHECK(decisions_of({{one}}, films)[0].moment_id == one.moment_id);
    CHECK(decisions_of({{one}}, films)[0].came == NextAction::pass);
    one.pass = ShotFact::PassFact{};
    one.pass->moment_id = "the pass";
    one.pass->depth_m = 2.1;
    one.pass->verdict = Verdict::over_challenged;
    const auto both = decisions_of({{one}}, films);
    REQUIRE(both.size() == 2);
    CHECK(both[0].moment_id == "the pass");
    CHECK(both[0].verdict == Verdict::over_challenged);
    CHECK(both[0].came == NextAction::pass);
    CHECK(misread_in_game(both[0]));
    CHECK(both[1].moment_id == one.moment_id);
    CHECK(both[1].came == NextAction::shot);
    CHECK_FALSE(both[1].read);
    // Whoever has seen the one knows the other: one of them a day, and the other one some other day.
    StudyFilter filter;
    filter.what = StudyWhat::all;
    const StudyQueue queue = queue_of({one}, filter);
    CHECK(queue.decisions.size() == 1);
    CHECK(queue.held_back == 1);
    std::set<Id> over_days;
    for (int day = 1; day <= 20; ++day)
        over_days.merge(asked(queue_of({one}, filter, {}, fmt::format("2026-11-{:02}", day))));
    CHECK(over_days.size() == 2);
    // Nor does the list hold the other one once the first was answered that day.
    const Answer given = answer("the pass", "2026-11-27T12:00:00Z", true, true);
    const auto so_far = answered_by({{given}}, "Ilse Tamm");
    const std::string day = day_of(given.answered_at);
    CHECK(asked(queue_of({one}, filter, so_far, day)) == std::set<Id>{"the pass"});
    filter.what = StudyWhat::unanswered;
    CHECK(queue_of({one}, filter, so_far, day).decisions.empty());
    CHECK(queue_of({one}, filter, so_far, day).held_back == 1);
    CHECK(asked(queue_of({one}, filter, so_far, days_after(day, 1))) == std::set<Id>{one.moment_id});
}

TEST_CASE("filters: unanswered, answered wrong, due, situation, goals, game, since, tag; film or none") {
    std::vector<ShotFact> facts;
    for (const char* date : {"2026-10-01", "2026-10-08", "2026-10-15", "2026-10-22"})
        facts.push_back(fact(date, Read::shot, NextAction::shot, Verdict::right_depth));
    facts[0].situation = Situation::breakaway;
    facts[0].outcome = Outcome::goal;
    facts[1].tags = "power play drill, video";
    facts[1].game_id = "second game";
    facts[2].film_id = "gone";
    const std::map<Id, AnsweredSoFar> so_far = {{"moment 2026-10-01", {1, true, "2026-11-27"}},
                                                {"moment 2026-10-08", {2, false, "2026-11-28"}},
                                                {"moment 2026-10-22", {1, false, ""}}};
    const auto of = [&](auto change) {
        StudyFilter filter;
        filter.what = StudyWhat::all;
        change(filter);
        return asked(queue_of(facts, filter, so_far));
    };
    const Id first = "moment 2026-10-01", second = "moment 2026-10-08", third = "moment 2026-10-15",
             fourth = "moment 2026-10-22";
    CHECK(of([](StudyFilter&) {}) == std::set<Id>{first, second, fourth});
    CHECK(of([](StudyFilter& f) { f.without_film = true; }) == std::set<Id>{first, second, third, fourth});
    CHECK(of([](StudyFilter& f) { f.what = StudyWhat::due; }) == std::set<Id>{first});
    CHECK(of([](StudyFilter& f) { f.what = StudyWhat::answered_wrong; }) == std::set<Id>{first});
    CHECK(of([](StudyFilter& f) { f.what = StudyWhat::unanswered; }).empty());
    CHECK(of([](StudyFilter& f) { f.what = StudyWhat::unanswered, f.without_film = true; }) ==
          std::set<Id>{third});
    CHECK(of([](StudyFilter& f) { f.situation = Situation::breakaway; }) == std::set<Id>{first});
    CHECK(of([](StudyFilter& f) { f.goals = true; }) == std::set<Id>{first});
    CHECK(of([](StudyFilter& f) { f.game_id = "second game"; }) == std::set<Id>{second});
    CHECK(of([](StudyFilter& f) { f.tag = "video"; }) == std::set<Id>{second});
    CHECK(of([](StudyFilter& f) { f.tag = "drill"; }).empty());
    CHECK(of([](StudyFilter& f) { f.since = "2026-10-08"; }) == std::set<Id>{second, fourth});
    StudyFilter filter;
    CHECK(queue_of(facts, filter, so_far).without_film == 1); // and it is said
}

TEST_CASE("the order of a day says nothing of what came: it is the same with every answer turned round") {
    std::vector<ShotFact> facts, turned;
    for (int index = 0; index < 30; ++index) {
        const std::string date = fmt::format("2026-01-{:02}", index + 1);
        facts.push_back(fact(date.c_str(), index % 3 ? Read::shot : Read::pass,
                             index % 2 ? NextAction::pass : NextAction::shot, Verdict::sat_back));
        turned.push_back(fact(date.c_str(), index % 3 ? Read::pass : Read::shot,
                              index % 2 ? NextAction::shot : NextAction::pass, Verdict::right_depth));
        turned.back().outcome = Outcome::goal;
    }
    const StudyQueue one = queue_of(facts, {}), other = queue_of(turned, {});
    CHECK(std::ranges::equal(one.decisions, other.decisions, {}, &StudyDecision::moment_id,
                             &StudyDecision::moment_id));
    const StudyQueue tomorrow = queue_of(facts, {}, {}, "2026-11-28");
    CHECK(asked(tomorrow) == asked(one));
    CHECK_FALSE(std::ranges::equal(one.decisions, tomorrow.decisions, {}, &StudyDecision::moment_id,
                                   &StudyDecision::moment_id));
}

TEST_CASE("what one person answered is theirs: the last answer holds, and nobody else's counts") {
    Answer first = answer("m", "2026-11-01T10:00:00Z", false, true);
    first.due_on = "2026-11-02";
    Answer second = answer("m", "2026-11-02T10:00:00Z", true, true);
    second.due_on = "2026-11-05";
    Answer other = answer("m", "2026-11-03T10:00:00Z", false, false);
    other.answered_by = "Somebody Else";
    const std::vector<Answer> all = {second, first, other};
    const auto mine = answered_by(all, "Ilse Tamm");
    REQUIRE(mine.size() == 1);
    CHECK(mine.at("m").times == 2);
    CHECK_FALSE(mine.at("m").wrong);
    CHECK(mine.at("m").due_on == "2026-11-05");
    CHECK(answered_by(all, "Somebody Else").at("m").wrong);
    CHECK(answered_by(all, "").empty());
}

TEST_CASE("answers are summed up by decisions, not by repeats: a sitting by the first answer, all by the "
          "last sitting") {
    const std::vector<Answer> all = {
        answer("a", "2026-11-01T10:00:00Z", false, true), answer("a", "2026-11-01T10:05:00Z", true, true),
        answer("b", "2026-11-01T10:10:00Z", true, false), answer("c", "2026-11-01T10:20:00Z", {}, {}),
        answer("a", "2026-11-02T18:00:00Z", true, true)};
    const auto sittings = sittings_of(all, "Ilse Tamm");
    REQUIRE(sittings.size() == 2);
    CHECK(sittings[0].size() == 4);
    const StudySum first = sum_of(std::span<const Answer>{sittings[0]});
    CHECK(first.calls == RightOf{1, 2});
    CHECK(first.places == RightOf{1, 2});
    const StudySum both = sum_of(std::span<const std::vector<Answer>>{sittings});
    CHECK(both.calls == RightOf{2, 2});
    CHECK(both.places == RightOf{1, 2});
    // Wilson, 95 %, of 2 of 2: 34.2 to 100 % (Newcombe 1998, method 3; from memory for the formula).
    CHECK(right_of_words(both.calls) == "2 of 2 (34 to 100 %)");
    const auto rows = progress_of(sittings, {{"a", Situation::rush}, {"b", Situation::breakaway}}, 4);
    REQUIRE(rows.size() == 3);
    CHECK(rows[0].situation == Situation::rush);
    REQUIRE(rows[0].sittings.size() == 2);
    CHECK(rows[0].sittings[0].calls == RightOf{0, 1});
    CHECK(rows[0].sittings[1].calls == RightOf{1, 1});
    CHECK(rows[0].all.calls == RightOf{1, 1});
    CHECK_FALSE(rows[2].situation);
}

TEST_CASE("how sure a goalie was stands beside how often he was right") {
    std::vector<Answer> all = {answer("a", "2026-11-01T10:00:00Z", true, {}),
                               answer("b", "2026-11-01T10:01:00Z", false, {}),
                               answer("c", "2026-11-01T10:02:00Z", false, {})};
    all[0].sure = all[1].sure = Sureness::sure;
    all[2].sure = Sureness::guess;
    const StudySum sum = sum_of(std::span<const Answer>{all});
    CHECK(sum.by_sureness.at(Sureness::sure) == RightOf{1, 2});
    CHECK(sum.by_sureness.at(Sureness::guess) == RightOf{0, 1});
}

TEST_CASE("beside the cursor stands how far out and how far off the puck line, and after it what the place "
          "was worth") {
    CHECK(place_read_out({0.0, 1.5}, {0.0, 9.0}, LengthUnit::metres) ==
          "1.50 m out (5 skate lengths), 0.00 m off the puck line");
    CHECK(place_read_out({0.3, 1.5}, {0.0, 9.0}, LengthUnit::feet) ==
          "4.9 ft out (5 skate lengths), 1.0 ft off the puck line");
    CHECK(place_words({.left = 0.22, .best = 0.21, .worth = 0.02, .right = true}) ==
          "Right place: 22 % of the net left open from there, 21 % from the best place; up to 2 % more is "
          "not worth acting on.");
    CHECK(place_words({.left = 0.61, .best = 0.21, .worth = 0.02}) ==
          "It gives net away: 61 % of the net left open from there, 21 % from the best place; up to 2 % more "
          "is "
          "not worth acting on.");
    CHECK(place_words({.on_post = true, .right = true}) == "Right place: on the post.");
    CHECK(place_words({.on_post = true}).find("Off the post") == 0);
    Answer one = answer("m", "2026-11-27T10:00:00Z", true, true);
    CHECK(call_words(one, NextAction::shot) == "Read it: a shot came.");
    one.call_right = false;
    CHECK(call_words(one, NextAction::pass) == "Misread it: a pass came.");
    one.call_right.reset();
    CHECK(call_words(one, NextAction::carry) ==
          "Neither a shot nor a pass came, so the call is not counted.");
    CHECK(call_words(one, {}) == "What came is not logged, so the call is not counted.");
    CHECK(due_words(one, "2026-11-27") == "Answered right: it is not asked again.");
    one.place_right.reset();
    CHECK(due_words(one, "2026-11-27") == "Not counted: it is not asked again.");
    one.due_on = "2026-11-28";
    CHECK(due_words(one, "2026-11-27") == "It comes back tomorrow.");
    one.due_on = "2026-12-04";
    CHECK(due_words(one, "2026-11-27") == "It comes back on 2026-12-04.");
}

TEST_CASE("plays of one game are told apart by the game clock, else by where they are on the film") {
    StudyDecision play;
    play.game_date = "2026-10-04";
    play.home = "Pike";
    play.away = "Otters";
    CHECK(play_words(play) == "2026-10-04  Pike – Otters");
    play.film_s = 94.6;
    CHECK(play_words(play) == "2026-10-04  Pike – Otters  film 1:34");
    play.period = 2;
    play.clock_s = 847.0;
    CHECK(play_words(play) == "2026-10-04  Pike – Otters  " + game_time_words(2, 847.0));
}

TEST_CASE("an empty list says what left it empty, not something else") {
    StudyFilter filter;
    filter.what = StudyWhat::due;
    CHECK(why_empty(0, filter, {}).find("Nothing here yet") == 0);
    CHECK(why_empty(3, filter, {}) == "Nothing is due today: 2 lists what has no answer yet.");
    // Due today, and left out: for their film, for the play's other decision, for the fields above.
    StudyQueue none;
    none.without_film = 1;
    CHECK(why_empty(3, filter, none).find("Those of this kind are without film") == 0);
    none = {};
    none.held_back = 1;
    CHECK(why_empty(3, filter, none).find("The others are of plays that were answered today") == 0);
    filter.goals = true;
    CHECK(why_empty(3, filter, {}).find("No decision of this kind is left by the fields above") == 0);
    filter = {};
    CHECK(why_empty(3, filter, {}) == "No decision of this kind. 5 lists every one.");
}
