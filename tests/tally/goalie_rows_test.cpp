// The goalies of a season side by side: their lines, the order of the table, two lots of shots against each other.
#include "tally/goalie_rows.h"
#include "tally/side_by_side.h"
#include "tally/simulated_league.h"

#include <doctest/doctest.h>

#include <cmath>

namespace ropeline {
namespace {

std::vector<ShotFact> league_of(int attempts, std::uint64_t seed) {
    simulated::League made;
    made.attempts = attempts;
    std::mt19937_64 random{seed};
    return simulated::season(made, random);
}

ShotFact shot_on(const Id& goalie, Outcome outcome, Verdict verdict) {
    ShotFact fact;
    fact.goalie_id = goalie;
    fact.goalie = "Goalie " + goalie;
    fact.game_id = "game";
    fact.outcome = outcome;
    fact.verdict = verdict;
    return fact;
}

} // namespace

TEST_CASE(
    "every shot on a named goalie is in exactly one line of the table, with what the season's tally says") {
    auto facts = league_of(1200, 5);
    facts.front().goalie_id.clear();
    int logged = 0, judged = 0;
    double given = 0.0;
    const auto rows = goalie_rows(facts);
    for (const GoalieRow& row : rows) {
        logged += row.counts.logged;
        judged += row.right_depth.of;
        given += row.given_away_a_game.value_or(0.0) * row.games;
        REQUIRE(row.shrunk);
        CHECK(row.shrunk->interval.low <= row.shrunk->share);
    }
    CHECK(rows.size() == 8);
    CHECK(logged == 1199);
    CHECK(judged == 1199);
    double sum = 0.0;
    for (const ShotFact& fact : facts)
        if (!fact.goalie_id.empty())
            sum += fact.pass ? fact.pass->gave_away.value_or(0.0) : fact.gave_away.value_or(0.0);
    CHECK(std::abs(given - sum) < 1e-9);
}

TEST_CASE(
    "right depths are counted of the plays with a verdict; beaten across and what was not judged stay out") {
    std::vector<ShotFact> facts{shot_on("a", Outcome::goal, Verdict::right_depth),
                                shot_on("a", Outcome::save_held, Verdict::sat_back),
                                shot_on("a", Outcome::save_held, Verdict::beaten_across),
                                shot_on("a", Outcome::save_held, Verdict::not_judged)};
    facts[0].read = Read::shot;
    facts[0].came = NextAction::shot;
    facts[1].read = Read::shot;
    facts[1].came = NextAction::pass;
    const GoalieRow row = goalie_rows(facts).front();
    CHECK(row.right_depth.hits == 1);
    CHECK(row.right_depth.of == 2);
    CHECK(row.read_it.hits == 1);
    CHECK(row.read_it.of == 2);
    CHECK(row.counts.save_percentage() == 0.75);
    CHECK_FALSE(row.given_away_a_game);
    CHECK_FALSE(row.shrunk); // nobody to be drawn to
}

TEST_CASE("the table sorts by every column both ways, and what is not known stands last in each") {
    std::vector<ShotFact> facts{shot_on("b", Outcome::goal, Verdict::right_depth),
                                shot_on("b", Outcome::save_held, Verdict::right_depth),
                                shot_on("c", Outcome::save_held, Verdict::sat_back),
                                shot_on("a", Outcome::miss, Verdict::not_judged)};
    const auto rows = goalie_rows(facts);
    REQUIRE(rows.size() == 3); // by name: a, b, c
    using Order = std::vector<std::size_t>;
    CHECK(ordered(rows, {GoalieColumn::goalie, false}) == Order{0, 1, 2});
    CHECK(ordered(rows, {GoalieColumn::goalie, true}) == Order{2, 1, 0});
    CHECK(ordered(rows, {GoalieColumn::shots, true}) == Order{1, 0, 2});
    CHECK(ordered(rows, {GoalieColumn::save_share, false}) == Order{1, 2, 0}); // a has no shot on goal
    CHECK(ordered(rows, {GoalieColumn::save_share, true}) == Order{2, 1, 0});
    CHECK(ordered(rows, {GoalieColumn::right_depth, false}) == Order{2, 1, 0});
    for (int column = 0; column < goalie_columns; ++column)
        for (const bool falling : {false, true})
            CHECK(ordered(rows, {static_cast<GoalieColumn>(column), falling}).size() == 3);
}

TEST_CASE("a click on a head asks for the best first, another for the other way round") {
    CHECK(clicked({}, GoalieColumn::save_share) == GoalieOrder{GoalieColumn::save_share, true});
    CHECK(clicked({}, GoalieColumn::given_away) == GoalieOrder{GoalieColumn::given_away, false});
    CHECK(clicked({GoalieColumn::save_share, true}, GoalieColumn::save_share) ==
          GoalieOrder{GoalieColumn::save_share, false});
}

TEST_CASE(
    "two lots of one league do not differ in like plays, and a harder lot of plays is no worse goalie") {
    const auto facts = league_of(6000, 11);
    std::vector<ShotFact> rushes, rest;
    for (const ShotFact& fact : facts)
        (fact.situation == Situation::rush || fact.situation == Situation::breakaway ? rushes : rest)
            .push_back(fact);
    std::vector<ShotFact> first, second; // the same league, but the first meets twice the rushes
    for (std::size_t i = 0; i < rushes.size(); ++i)
        (i % 3 == 2 ? second : first).push_back(rushes[i]);
    for (std::size_t i = 0; i < rest.size(); ++i)
        (i % 3 == 2 ? first : second).push_back(rest[i]);
    const SideBySide compared = side_by_side(first, second);
    REQUIRE(compared.goals.within_like_plays);
    CHECK(compared.goals.within_like_plays->interval.low < 0.0);
    CHECK(compared.goals.within_like_plays->interval.high > 0.0);
    CHECK(compared.goals.first.of + compared.goals.second.of == 6000);
    REQUIRE(compared.right_depth.plain);
    CHECK_FALSE(compared.read_it.plain); // nobody called anything
}

} // namespace ropeline
