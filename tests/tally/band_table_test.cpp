#include "tally/band_table.h"

#include <doctest/doctest.h>

namespace ropeline {
namespace {

ShotFact fact(const std::string& goalie, std::optional<Band> band, std::optional<Outcome> outcome) {
    ShotFact fact;
    fact.goalie_id = goalie;
    fact.goalie = goalie;
    fact.band = band;
    fact.outcome = outcome;
    return fact;
}

} // namespace

TEST_CASE("a season's counts follow the definitions of the trade") {
    // NCAA statisticians' manual 2020-21, sec. 4: posts, misses and blocks are shots but not shots on goal.
    std::vector<ShotFact> facts;
    for (const auto outcome : {Outcome::goal, Outcome::save_held, Outcome::save_rebound, Outcome::post,
                               Outcome::miss, Outcome::block, Outcome::no_shot})
        facts.push_back(fact("Tamm", Band::base, outcome));
    facts.push_back(fact("Tamm", Band::base, std::nullopt));
    const Counts counts = count(facts);
    CHECK(counts.logged == 8);
    CHECK(counts.shots == 6);
    CHECK(counts.on_goal == 3);
    CHECK(counts.goals == 1);
    CHECK(counts.saves() == 2);
    CHECK(counts.save_percentage() == 2.0 / 3.0);
}

TEST_CASE("27 goals on 300 shots: .910, and the interval of the misses turned round") {
    // 27/300 -> 0.062590 0.127777 (R prop.test without correction), so saves are 1 minus these.
    std::vector<ShotFact> facts(300, fact("Tamm", Band::base, Outcome::save_held));
    for (std::size_t i = 0; i < 27; ++i)
        facts[i].outcome = Outcome::goal;
    const Counts counts = count(facts);
    CHECK(*counts.save_percentage() == doctest::Approx(0.91).epsilon(1e-12));
    CHECK(counts.interval()->low == doctest::Approx(1.0 - 0.127777).epsilon(1e-6));
    CHECK(counts.interval()->high == doctest::Approx(1.0 - 0.062590).epsilon(1e-6));
}

TEST_CASE("each goalie has a table; bands, shots without a depth and the total add up") {
    const std::vector<ShotFact> facts = {
        fact("", Band::base, Outcome::goal),           fact("Tamm", Band::defensive, Outcome::save_held),
        fact("Abel", Band::aggressive, Outcome::goal), fact("Tamm", std::nullopt, Outcome::goal),
        fact("Tamm", Band::aggressive, Outcome::miss), fact("Tamm", Band::aggressive, Outcome::save_rebound)};
    const auto tables = band_tables(facts);
    REQUIRE(tables.size() == 3);
    CHECK(tables[0].goalie == "Abel");
    CHECK(tables[1].goalie == "Tamm");
    CHECK(tables[2].goalie_id.empty());
    const GoalieTable& tamm = tables[1];
    CHECK(tamm.by_band[0].on_goal == 1);
    CHECK(tamm.by_band[1].logged == 0);
    CHECK_FALSE(tamm.by_band[1].save_percentage());
    CHECK_FALSE(tamm.by_band[1].interval());
    CHECK(tamm.by_band[3].shots == 2);
    CHECK(tamm.by_band[3].on_goal == 1);
    CHECK(tamm.without_depth.goals == 1);
    int logged = tamm.without_depth.logged;
    for (const Counts& counts : tamm.by_band)
        logged += counts.logged;
    CHECK(logged == tamm.total.logged);
    CHECK(tamm.total.on_goal == 3);
    CHECK(band_tables(std::span<const ShotFact>{}).empty());
}

TEST_CASE("a play that was passed has two decisions; an overruling moves one, the model's stays counted") {
    ShotFact shot = fact("Tamm", Band::base, Outcome::goal);
    shot.verdict = Verdict::right_depth;
    ShotFact passed = shot;
    passed.pass.emplace();
    passed.pass->verdict = Verdict::over_challenged;
    passed.pass->overruled = Verdict::right_depth;
    ShotFact agreed = shot;
    agreed.overruled = Verdict::right_depth;
    const auto tables =
        band_tables(std::vector{shot, passed, agreed, fact("Tamm", std::nullopt, std::nullopt)});
    REQUIRE(tables.size() == 1);
    const VerdictCounts& counts = tables[0].verdicts;
    CHECK(counts.model == std::array{3, 1, 0, 0, 0, 0, 0, 0});
    CHECK(counts.reviewed == std::array{4, 0, 0, 0, 0, 0, 0, 0});
    CHECK(counts.overruled == 1);
}

TEST_CASE("the goalie's calls are counted by what came, whatever the verdict on the depth") {
    ShotFact shot = fact("Tamm", Band::base, Outcome::goal);
    shot.read = Read::pass;
    shot.came = NextAction::pass;
    shot.verdict = Verdict::sat_back;
    ShotFact misread = shot;
    misread.read = Read::shot;
    misread.verdict = Verdict::right_depth;
    ShotFact kept = shot; // neither a shot nor a pass came
    kept.came = NextAction::carry;
    ShotFact not_called = shot;
    not_called.read.reset();
    const auto tables = band_tables(std::vector{shot, shot, misread, kept, not_called});
    REQUIRE(tables.size() == 1);
    CHECK(tables[0].calls.read_it == 2);
    CHECK(tables[0].calls.misread_it == 1);
}

} // namespace ropeline
