#include "sheet/season_words.h"
#include "tally/decision.h"
#include "tally/difference.h"
#include "tally/simulated_league.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

namespace ropeline {
namespace {

bool says(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

ShotFact attempt(NextAction came, Band band, bool goal) {
    ShotFact fact;
    fact.goalie_id = "x";
    fact.game_id = "one";
    fact.situation = Situation::rush;
    fact.came = came;
    fact.band = band;
    fact.clearance_m = 0.0;
    fact.outcome = goal ? Outcome::goal : Outcome::save_held;
    return fact;
}

void add(std::vector<ShotFact>& facts, NextAction came, Band band, int goals, int of) {
    for (int i = 0; i < of; ++i)
        facts.push_back(attempt(came, band, i < goals));
}

std::string sentence_of(const std::vector<ShotFact>& facts) {
    return first_sentence(coming_out(facts, NextAction::shot), coming_out(facts, NextAction::pass));
}

/// The difference that a table of all plays together shows, shots and passes mixed: the trap.
Interval pooled(const std::vector<ShotFact>& facts) {
    Share out, inside;
    for (const ShotFact& fact : facts) {
        const auto goal = was_goal(fact);
        const auto band = decision_of(fact).band;
        if (!goal || !band) continue;
        Share& share = is_further_out(*band) ? out : inside;
        ++share.of;
        share.hits += *goal ? 1 : 0;
    }
    return newcombe_difference(out, inside).interval;
}

struct Said {
    int truth = 0, opposite = 0, pooled_out = 0, pooled_in = 0, not_enough = 0;
};

/// What the first sentences of so many seasons say; what coming out does there is known.
Said listen(const simulated::League& league, int seasons) {
    Said said;
    std::mt19937_64 random{20261127};
    for (int i = 0; i < seasons; ++i) {
        const auto facts = simulated::season(league, random);
        const std::string sentence = sentence_of(facts);
        const auto parted = sentence.find("; on passes");
        REQUIRE(parted != std::string::npos);
        const std::string shots = sentence.substr(0, parted), passes = sentence.substr(parted);
        const std::string fewer = "fewer went in from further out", more = "more went in from further out";
        said.truth += says(shots, fewer) && says(passes, more);
        said.opposite += says(shots, more) || says(passes, fewer);
        said.not_enough += says(shots, "not enough") || says(passes, "not enough");
        said.pooled_out += pooled(facts).high < 0.0;
        said.pooled_in += pooled(facts).low > 0.0;
    }
    return said;
}

} // namespace

TEST_CASE("a league where coming out helps on shots and hurts on passes: the first sentence says so") {
    const Said said = listen({}, 100);
    MESSAGE("of 100 seasons of 4000 attempts the first sentence says the truth in ", said.truth,
            ", its opposite in ", said.opposite, "; the pooled table says come out in ", said.pooled_out,
            ", stay in in ", said.pooled_in, ", never both");
    CHECK(said.truth >= 95);
    CHECK(said.opposite == 0);
}

TEST_CASE("one goalie's season is often not enough to say, and then that is what is said") {
    simulated::League one;
    one.goalies = 1;
    one.games = 25;
    one.attempts = 500;
    const Said said = listen(one, 100);
    MESSAGE("of 100 seasons of 500 attempts: the truth on both in ", said.truth, ", its opposite in ",
            said.opposite, ", not enough to say on one or both in ", said.not_enough);
    CHECK(said.opposite == 0);
    CHECK(said.truth + said.not_enough >= 95);
}

TEST_CASE("where depth makes no difference the sentence claims one no more often than one in twenty a half") {
    simulated::League even;
    even.on_clear_shots = even.on_passes = 0.0;
    std::mt19937_64 random{7};
    int claims = 0;
    for (int i = 0; i < 100; ++i) {
        const std::string sentence = sentence_of(simulated::season(even, random));
        claims += says(sentence, "fewer went in") + says(sentence, "more went in");
    }
    MESSAGE("of 200 halves ", claims, " claim a difference that is not there");
    CHECK(claims <= 20); // 10 expected, three standard errors
}

TEST_CASE("the first sentence has counts, difference and interval, clear shots and passes apart") {
    std::vector<ShotFact> facts;
    add(facts, NextAction::shot, Band::aggressive, 0, 37);
    add(facts, NextAction::shot, Band::conservative, 3, 20);
    add(facts, NextAction::pass, Band::base, 9, 19);
    add(facts, NextAction::pass, Band::defensive, 1, 12);
    const std::string sentence = first_sentence(tally_season(facts));
    CHECK(says(sentence, "On clear shots 0 of 37 went in from base or beyond and 3 of 20 from inside:"));
    CHECK(says(
        sentence,
        "; on passes 9 of 19 went in from base or beyond and 1 of 12 from inside: in like plays more went in "
        "from further out, by .39 ("));
    CHECK(sentence.ends_with("."));
    CHECK(std::ranges::count(sentence, ';') == 1);
}

TEST_CASE("not enough shots to say is an answer, with how many it would take") {
    std::vector<ShotFact> facts;
    add(facts, NextAction::shot, Band::base, 1, 12);
    add(facts, NextAction::shot, Band::defensive, 1, 10);
    const SeasonTally tally = tally_season(facts);
    const std::string sentence = first_sentence(tally);
    CHECK(says(sentence, "not enough shots to say ("));
    CHECK(says(sentence, "such attempts in all would narrow that to .05 either way)"));
    CHECK(says(sentence, "on passes nothing is logged with a depth"));
    REQUIRE(tally.on_shots.attempts_needed);
    // Half the interval, so many times wider than .05, asks for its square as many shots.
    const Interval interval = tally.on_shots.within_like_plays->interval;
    const double half = 0.5 * (interval.high - interval.low);
    CHECK(*tally.on_shots.attempts_needed == doctest::Approx(22.0 * half * half / 0.0025).epsilon(0.02));
    CHECK(says(first_sentence(tally_season({})), "Nothing can be said of depth yet"));
}

TEST_CASE("of fewer than twenty attempts one line says that they are too few") {
    std::vector<ShotFact> facts;
    add(facts, NextAction::shot, Band::base, 0, 1);
    const std::string too_few = " logged with a depth and an outcome: too few to say anything of depth yet.";
    CHECK(first_sentence(tally_season(facts)) == "1 shot" + too_few);
    add(facts, NextAction::shot, Band::defensive, 9, 9);
    add(facts, NextAction::pass, Band::base, 9, 9);
    CHECK(first_sentence(tally_season(facts)) == "19 shots" + too_few);
    add(facts, NextAction::pass, Band::base, 0, 1);
    CHECK(says(first_sentence(tally_season(facts)), "On clear shots 0 of 1 went in from base"));
    // What the limit rests on: ten attempts a side, none in.
    const Interval narrowest = newcombe_difference({0, 10}, {0, 10}).interval;
    CHECK(narrowest.high == doctest::Approx(0.28).epsilon(0.01));
    CHECK(narrowest.high > 5.0 * worth_acting_on);
}

TEST_CASE("on little the sentences claim nothing") {
    std::vector<ShotFact> facts;
    add(facts, NextAction::shot, Band::base, 0, 20);
    CHECK(first_sentence(tally_season(facts)) == "On clear shots 0 of 20 went in from base or beyond and no "
                                                 "attempt is logged from inside: nothing to compare; "
                                                 "on passes nothing is logged with a depth.");
    add(facts, NextAction::shot, Band::defensive, 0, 1);
    CHECK(says(first_sentence(tally_season(facts)), "not enough shots to say ("));
    facts.clear();
    add(facts, NextAction::pass, Band::base, 10, 10);
    add(facts, NextAction::pass, Band::defensive, 10, 10);
    CHECK(says(first_sentence(tally_season(facts)), "on passes 10 of 10 went in from base or beyond and 10 "
                                                    "of 10 from inside: not enough shots to say ("));
    for (ShotFact& fact : facts)
        fact.band.reset();
    CHECK(says(first_sentence(tally_season(facts)), "Nothing can be said of depth yet"));
    CHECK(further_sentences(tally_season(facts)).size() == 1);
    CHECK(further_sentences(tally_season({})) ==
          std::vector<std::string>{"No attempt with an outcome is logged."});
}

TEST_CASE("chance that is rarer than one season in a hundred is not called never") {
    std::vector<ShotFact> facts;
    add(facts, NextAction::shot, Band::base, 60, 100);
    add(facts, NextAction::shot, Band::base, 5, 100);
    for (std::size_t i = 0; i < facts.size(); ++i)
        facts[i].verdict = i < 100 ? Verdict::sat_back : Verdict::right_depth;
    const auto sentences = further_sentences(tally_season(facts));
    CHECK(std::ranges::any_of(sentences, [](const std::string& one) {
        return says(one, "After the right depth 5 of 100 went in, after any other verdict 60 of 100: more, "
                         "by .55 (") &&
               says(one, "in fewer than 1 of 100 seasons");
    }));
}

TEST_CASE("the goalies with the fewest and the most are told apart only where their ranges are") {
    const auto of_goalies = [](int fewest, int most) {
        std::vector<ShotFact> facts;
        for (const auto& [goals, name] : {std::pair{fewest, "A"}, {(fewest + most) / 2, "B"}, {most, "C"}}) {
            const std::size_t before = facts.size();
            add(facts, NextAction::shot, Band::base, goals, 200);
            for (std::size_t i = before; i < facts.size(); ++i)
                facts[i].goalie = facts[i].goalie_id = name;
        }
        std::string all;
        for (const std::string& sentence : further_sentences(tally_season(facts)))
            all += sentence;
        return all;
    };
    CHECK(says(of_goalies(20, 20), "The 3 goalies differ by no more than chance alone makes"));
    CHECK(says(of_goalies(12, 30), "not enough shots to tell even these two apart"));
    CHECK(says(of_goalies(10, 110), "A has the fewest goals of attempts"));
    CHECK_FALSE(says(of_goalies(10, 110), "apart"));
}

TEST_CASE("many like shots with like goals: no difference worth acting on, not 'not enough'") {
    std::vector<ShotFact> facts;
    add(facts, NextAction::shot, Band::base, 90, 1500);
    add(facts, NextAction::shot, Band::defensive, 92, 1500);
    CHECK(says(first_sentence(tally_season(facts)), "no difference worth acting on (.02 fewer to .02 more)"));
}

TEST_CASE("no sentence makes a cause of what goes together, and the decision stays apart from the outcome") {
    std::mt19937_64 random{3};
    const SeasonTally tally = tally_season(simulated::season({}, random));
    std::string all = first_sentence(tally);
    for (const std::string& sentence : further_sentences(tally))
        all += " " + sentence;
    CHECK(further_sentences(tally).size() == 6);
    for (const char* cause :
         {"because", "caused", "costs", "saves goals", "thanks to", "due to", "leads to", "should"}) {
        CAPTURE(cause);
        CHECK_FALSE(says(all, cause));
    }
    CHECK(says(all, "The verdict never looks at the outcome"));
    CHECK(says(all, "logged chances are not all chances"));
    MESSAGE(all);
}

} // namespace ropeline
