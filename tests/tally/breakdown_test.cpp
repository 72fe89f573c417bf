#include "tally/breakdown.h"
#include "tally/decision.h"
#include "tally/filter.h"
#include "tally/over_games.h"
#include "tally/reviews.h"
#include "tally/season_tally.h"
#include "tally/simulated_league.h"

#include <doctest/doctest.h>

#include <cmath>

namespace ropeline {
namespace {

std::vector<ShotFact> league(int attempts, std::uint64_t seed = 4) {
    simulated::League made;
    made.attempts = attempts;
    std::mt19937_64 random{seed};
    return simulated::season(made, random);
}

} // namespace

TEST_CASE("a play that was passed is counted by where he stood at the pass, not at the release") {
    ShotFact fact;
    fact.band = Band::conservative;
    fact.verdict = Verdict::right_depth;
    fact.pass.emplace();
    fact.pass->band = Band::aggressive;
    fact.pass->verdict = Verdict::over_challenged;
    CHECK(decision_of(fact).band == Band::aggressive);
    CHECK(decision_of(fact).verdict == Verdict::over_challenged);
    fact.pass->overruled = Verdict::right_depth;
    CHECK(decision_of(fact).verdict == Verdict::right_depth);
    CHECK(what_came(fact) == NextAction::pass);
    fact.pass.reset();
    CHECK(decision_of(fact).band == Band::conservative);
    CHECK_FALSE(what_came(fact));
}

TEST_CASE("a block is no attempt a goalie had to stop, a miss is") {
    ShotFact fact;
    for (const auto& [outcome, goal] : {std::pair{Outcome::goal, std::optional{true}},
                                        {Outcome::save_held, std::optional{false}},
                                        {Outcome::miss, std::optional{false}},
                                        {Outcome::post, std::optional{false}},
                                        {Outcome::block, std::optional<bool>{}},
                                        {Outcome::no_shot, std::optional<bool>{}}}) {
        fact.outcome = outcome;
        CHECK(was_goal(fact) == goal);
    }
}

TEST_CASE("halves are of the games by date, whatever order they come in") {
    std::vector<ShotFact> facts(5);
    const char* dates[] = {"2026-03-01", "2026-01-01", "2026-02-01", "2026-04-01", "2026-01-01"};
    const char* games[] = {"c", "a", "b", "d", "a"};
    for (std::size_t i = 0; i < facts.size(); ++i) {
        facts[i].game_date = dates[i];
        facts[i].game_id = games[i];
    }
    CHECK(games_by_date(facts) == std::vector<Id>{"a", "b", "c", "d"});
    const auto halves = groups(facts, Cut::half);
    REQUIRE(halves.size() == 2);
    CHECK(halves[0].label == "first half");
    CHECK(halves[0].counts.logged == 3);
    CHECK(halves[1].counts.logged == 2);
}

TEST_CASE("a game without a date is in neither half of the season") {
    std::vector<ShotFact> facts(6);
    const char* dates[] = {"", "", "", "2026-01-01", "2026-02-01", ""};
    for (std::size_t i = 0; i < facts.size(); ++i) {
        facts[i].game_id = std::string(1, static_cast<char>('a' + i));
        facts[i].game_date = dates[i];
        facts[i].outcome = Outcome::goal;
    }
    const auto halves = groups(facts, Cut::half);
    REQUIRE(halves.size() == 3);
    CHECK(halves[0].counts.goals == 1);
    CHECK(halves[1].counts.goals == 1);
    CHECK(halves[2].label == "not known");
    const OverGames over = over_games(facts);
    CHECK(over.games.size() == 6);
    CHECK(over.first_half.of == 1);
    CHECK(over.second_half.of == 1);
    CHECK_FALSE(over.odds_ten_games_on); // two games with a date are no trend
}

TEST_CASE("shots at the same time of two films of a game are not the same shot when the periods differ") {
    std::vector<ShotFact> first(2), second(2);
    for (std::size_t i = 0; i < 2; ++i) {
        first[i].shot_id = "first" + std::to_string(i);
        second[i].shot_id = "second" + std::to_string(i);
        first[i].game_date = second[i].game_date = "2026-01-01";
        first[i].period = second[1 - i].period = static_cast<int>(i) + 1;
        first[i].film_s = 100.0;
        second[i].film_s = 100.0;
    }
    const auto pairs = same_shots(first, second);
    REQUIRE(pairs.size() == 2);
    CHECK(pairs[0].second == 1);
    CHECK(pairs[1].second == 0);
}

TEST_CASE("what was given away adds up over games and over situations") {
    const auto facts = league(900);
    const OverGames over = over_games(facts);
    double sum = 0.0, games = 0.0, situations = 0.0;
    for (const ShotFact& fact : facts)
        sum += decision_of(fact).gave_away.value_or(0.0);
    for (const GameLine& game : over.games)
        games += game.given_away.sum;
    for (const GivenAway& situation : over.by_situation)
        situations += situation.sum;
    CHECK(std::abs(games - sum) < 1e-9);
    CHECK(std::abs(situations - sum) < 1e-9);
    CHECK(std::abs(over.nets_a_game * 60.0 - sum) < 1e-9);
    CHECK(over.first_half.of + over.second_half.of == 900);
}

TEST_CASE("the decision is counted by its verdict and the outcome beside it; beaten across is neither") {
    std::vector<ShotFact> facts(6);
    for (ShotFact& fact : facts)
        fact.outcome = Outcome::save_held;
    facts[0].verdict = Verdict::right_depth;
    facts[1].verdict = Verdict::right_depth;
    facts[1].outcome = Outcome::goal;
    facts[2].verdict = Verdict::sat_back;
    facts[3].verdict = Verdict::beaten_across;
    facts[4].verdict = Verdict::not_judged;
    const DecisionByOutcome made = decision_by_outcome(facts);
    CHECK(made.right.of == 2);
    CHECK(made.right.hits == 1);
    CHECK(made.wrong.of == 1);
}

TEST_CASE("a review against itself agrees in everything; against a shifted one by the shift") {
    const auto first = league(300);
    const ReviewAgreement same = agreement_of(first, first);
    CHECK(same.pairs == 300);
    for (const WordAgreement& word : same.words)
        CHECK(word.kappa.value == doctest::Approx(1.0).epsilon(1e-9));
    auto second = first;
    for (std::size_t i = 0; i < second.size(); ++i) {
        second[i].shot_id = "other" + second[i].shot_id;
        second[i].film_s = 10.0 * static_cast<double>(i) + 0.7;
        *second[i].depth_m -= 0.1;
        if (second[i].pass) second[i].pass->depth_m -= 0.1;
    }
    auto timed = first;
    for (std::size_t i = 0; i < timed.size(); ++i)
        timed[i].film_s = 10.0 * static_cast<double>(i);
    second.resize(250);
    const ReviewAgreement shifted = agreement_of(timed, second);
    CHECK(shifted.pairs == 250);
    CHECK(shifted.only_first == 50);
    CHECK(shifted.only_second == 0);
    REQUIRE(shifted.depth_m);
    CHECK(std::abs(shifted.depth_m->mean - 0.1) < 1e-9);
}

TEST_CASE("filters keep what was asked for, and seasons laid together count a shot once") {
    const auto facts = league(200);
    FactFilter filter;
    filter.goalie = "GOALIE 3";
    filter.situation = Situation::rush;
    filter.from = "2026-01-10";
    filter.to = "2026-02-10";
    int kept = 0;
    for (const ShotFact& fact : filtered(facts, filter)) {
        CHECK(fact.goalie == "Goalie 3");
        CHECK(fact.situation == Situation::rush);
        CHECK(fact.game_date >= "2026-01-10");
        CHECK(fact.game_date <= "2026-02-10");
        ++kept;
    }
    CHECK(kept > 0);
    auto other = facts;
    other.resize(50);
    for (std::size_t i = 0; i < 25; ++i) {
        other[i].shot_id = "new" + other[i].shot_id;
        other[i].goalie_id = "again" + other[i].goalie_id; // the same goalie, entered anew in another file
    }
    const auto all = together({facts, other});
    CHECK(all.size() == 225);
    CHECK(goalie_lines(all).size() == goalie_lines(facts).size());
    // Two goalies of one season may well have one name: they stay two, also beside a copy of that season.
    std::vector<ShotFact> twins(2);
    twins[0].shot_id = "1";
    twins[1].shot_id = "2";
    twins[0].goalie_id = "a";
    twins[1].goalie_id = "b";
    CHECK(goalie_lines(together({twins})).size() == 2);
    auto copy = twins;
    copy[0].shot_id = "3";
    copy[1].shot_id = "4";
    CHECK(goalie_lines(together({twins, copy})).size() == 2);
}

TEST_CASE("a name is found whatever its capitals, in any script") {
    ShotFact fact;
    fact.goalie = "Žofie Ängström";
    fact.team = "Ørsted Κίσσες";
    for (const char* typed : {"žofie ängström", "ŽOFIE ÄNGSTRÖM", "Z\u030cofie A\u0308ngstro\u0308m"})
        CHECK(passes({.goalie = typed}, fact));
    CHECK(passes({.team = "ørsted κίσσεσ"}, fact)); // a sigma is a sigma, also at the end of a word
    CHECK_FALSE(passes({.goalie = "zofie angstrom"}, fact));
}

TEST_CASE("a filter asks for a verdict, for goals and for a part of the ice as the play is counted") {
    ShotFact fact;
    fact.verdict = Verdict::sat_back;
    fact.outcome = Outcome::goal;
    fact.puck_at = IcePoint{2.0, 6.0};
    CHECK(passes({.verdict = Verdict::sat_back}, fact));
    CHECK(passes({.goals = true}, fact));
    CHECK(passes({.area = IceArea{{1.0, 5.0}, {3.0, 7.0}}}, fact));
    CHECK_FALSE(passes({.area = IceArea{{-3.0, 5.0}, {-1.0, 7.0}}}, fact));
    fact.pass.emplace();
    fact.pass->verdict = Verdict::over_challenged; // the decision was the one at the pass
    CHECK(passes({.verdict = Verdict::over_challenged}, fact));
    CHECK_FALSE(passes({.verdict = Verdict::sat_back}, fact));
    fact.outcome = Outcome::save_held;
    CHECK_FALSE(passes({.goals = true}, fact));
    CHECK(FactFilter{}.asks_nothing());
}

TEST_CASE("the same game under two ids in two files is told, one that both hold by the same id is not") {
    const auto game = [](const Id& id, const std::string& date, const std::string& shot) {
        ShotFact fact;
        fact.game_id = id;
        fact.game_date = date;
        fact.shot_id = shot;
        fact.home_team = "Saltmarsh Herons";
        fact.away_team = "Otter Bay";
        return fact;
    };
    const std::vector<ShotFact> one{game("a", "2026-11-25", "1"), game("b", "2026-11-26", "2")};
    const std::vector<ShotFact> same{game("a", "2026-11-25", "1"), game("a", "2026-11-25", "3")};
    const std::vector<ShotFact> other{game("z", "2026-11-26", "4")};
    CHECK(games_under_two_ids({one, same}).empty());
    CHECK(games_under_two_ids({one, same, other}) ==
          std::vector<std::string>{"2026-11-26, Saltmarsh Herons - Otter Bay"});
    CHECK(over_games(together({one, same})).games.size() == 2);
    CHECK(together({one, same}).size() == 3);
    // Two games of one day in one file are two games.
    CHECK(games_under_two_ids({{game("p", "2026-11-25", "5"), game("q", "2026-11-25", "6")}}).empty());
}

} // namespace ropeline
