// When a decision comes back, and what an answer was worth.
#include "season/answer_worth.h"
#include "season/come_back.h"
#include "season/dates.h"
#include "season/own_figures.h"
#include "season/play.h"
#include "season/sample.h"

#include <doctest/doctest.h>

using namespace ropeline;

namespace {

Answer on(const std::string& day, bool right) {
    Answer answer;
    answer.answered_at = day + "T12:00:00Z";
    answer.call_right = right;
    return answer;
}

std::vector<std::string> due_days(std::vector<Answer> answers) {
    put_due_days(answers);
    std::vector<std::string> days;
    for (const Answer& answer : answers)
        days.push_back(answer.due_on);
    return days;
}

} // namespace

TEST_CASE(
    "a wrong answer comes back after 1, 3, 7, 16 and 35 days, each right one the next gap, then it fades") {
    CHECK(due_days({on("2026-01-01", false), on("2026-01-02", true), on("2026-01-05", true),
                    on("2026-01-12", true), on("2026-01-28", true), on("2026-03-04", true)}) ==
          std::vector<std::string>{"2026-01-02", "2026-01-05", "2026-01-12", "2026-01-28", "2026-03-04", ""});
}

TEST_CASE("wrong again begins again; right before it was due changes nothing; never wrong never comes back") {
    CHECK(due_days({on("2026-02-27", false), on("2026-02-27", true), on("2026-02-28", true),
                    on("2026-03-03", false)}) ==
          std::vector<std::string>{"2026-02-28", "2026-02-28", "2026-03-03", "2026-03-04"});
    CHECK(due_days({on("2026-01-01", true), on("2026-01-09", true)}) == std::vector<std::string>{"", ""});
    CHECK(due_days({on("2026-12-31", false)}) == std::vector<std::string>{"2027-01-01"});
}

TEST_CASE("an answer is wrong when its call or its place is; what could not be said of it is no fault") {
    Answer answer;
    CHECK_FALSE(answered_wrong(answer));
    answer.call_right = true;
    CHECK_FALSE(answered_wrong(answer));
    answer.place_right = false;
    CHECK(answered_wrong(answer));
}

TEST_CASE(
    "a place is worth what it gives away: beside the puck line it is wrong at the right depth, on it right") {
    const sample::Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40);
    shot.came = NextAction::shot;
    file.put(shot);
    Moment one = sample::moment(shot.id, ids);
    one.kind = MomentKind::release;
    file.put(one);
    const auto play = file.moments(shot.id);
    const RuleBook& rules = rule_book(RuleBookId::nhl);
    const Parameters& parameters = file.season().parameters;
    const auto asked = asked_of(shot, play, play[0]);
    REQUIRE(asked);
    const Decision decision = decide(asked->moment, rules, parameters);
    REQUIRE(decision.advice);
    const IcePoint puck = asked->moment.puck;
    const IcePoint line = puck * (1.0 / length(puck)), across{line.y_m, -line.x_m};
    const IcePoint best = line * decision.advice->best_m;
    const auto worth = [&](IcePoint place) {
        return *worth_of_place(shot, play, play[0], place, rules, parameters);
    };
    CHECK(worth(best).right);
    CHECK(worth(best).left == doctest::Approx(decision.advice->left_best).epsilon(1e-9));
    CHECK(depth_m(best, puck) == doctest::Approx(decision.advice->best_m).epsilon(1e-9));
    const PlaceWorth beside = worth(best + across * 5.0);
    CHECK_FALSE(beside.right);
    CHECK(beside.best == doctest::Approx(decision.advice->left_best).epsilon(1e-9));
    CHECK(depth_m(best + across * 5.0, puck) == doctest::Approx(decision.advice->best_m).epsilon(1e-9));
    CHECK(beside.left - beside.best > parameters.worth);

    Answer answer;
    answer.moment_id = play[0].id;
    answer.read = Read::pass;
    answer.ice = best + across * 5.0;
    put_worth(answer, shot, play, rules, parameters);
    CHECK(answer.call_right == false);
    CHECK(answer.place_right == false);
    CHECK(answer.gave_away == doctest::Approx(beside.left - beside.best).epsilon(1e-9));
    shot.came = NextAction::carry;
    answer.call_right.reset();
    put_worth(answer, shot, play, rules, parameters);
    CHECK_FALSE(answer.call_right.has_value());
}

TEST_CASE(
    "what an answer was worth and the day it comes back on are kept, and taking it back leaves the others") {
    const sample::Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40);
    file.put(shot);
    Moment one = sample::moment(shot.id, ids);
    file.put(one);
    const auto undo = file.undo_name();
    Answer answer;
    answer.moment_id = one.id;
    answer.answered_at = "2026-11-25T14:03:00Z";
    answer.answered_by = "Ilse Tamm";
    answer.sure = Sureness::fairly;
    answer.call_right = false;
    answer.place_right = true;
    answer.gave_away = 0.01;
    answer.due_on = "2026-11-26";
    Answer other = answer;
    other.due_on = "";
    file.follow_up([&] {
        file.put(answer);
        file.put(other);
    });
    CHECK(file.undo_name() == undo); // the log's undo passes over them
    REQUIRE(file.answers().size() == 2);
    const Answer back = file.answers()[0];
    CHECK(back.sure == Sureness::fairly);
    CHECK(back.call_right == false);
    CHECK(back.place_right == true);
    CHECK(back.gave_away == 0.01);
    CHECK(back.due_on == "2026-11-26");
    CHECK(file.answers()[1].due_on.empty());
    file.follow_up([&] { file.remove_answer(answer.id); });
    REQUIRE(file.answers().size() == 1);
    CHECK(file.answers()[0].id == other.id);
    file.undo();
    file.undo();
    CHECK(file.redo());
}
