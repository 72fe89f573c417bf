// What the Season side says of shots and of two lots of them, and what its charts tell of the place that is pointed at.
#include "sheet/csv.h"
#include "sheet/depth_scatter.h"
#include "sheet/season_charts.h"
#include "sheet/share_words.h"
#include "sheet/shot_words.h"
#include "sheet/side_by_side_words.h"
#include "tally/simulated_league.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <span>

namespace ropeline {
namespace {

Season short_winter() {
    Season season;
    season.name = "Winter";
    season.parameters = parameters_for(Level::senior);
    return season;
}

std::vector<ShotFact> some_shots(int attempts) {
    simulated::League made;
    made.attempts = attempts;
    std::mt19937_64 random{3};
    return simulated::season(made, random);
}

} // namespace

TEST_CASE("verdicts are counted in one set of words, in their order, and only those that are there") {
    CHECK(verdict_words({61, 0, 0, 12, 0, 0, 0, 3}) == "61 right depth, 12 sat back, 3 not judged");
    CHECK(verdict_words({}).empty());
}

TEST_CASE("a filter is said in words, the goalie by name") {
    FactFilter filter;
    CHECK(filter_words(filter).empty());
    filter.goalie_id = "0190";
    filter.situation = Situation::rush;
    filter.goals = true;
    filter.from = "2026-11-25";
    CHECK(filter_words(filter, "Ilse Tamm") == "Ilse Tamm, rush, goals, from 2026-11-25");
}

TEST_CASE("a shot says who, when, how far out at the decision with the verdict, and how it ended") {
    ShotFact fact;
    fact.goalie = "Ilse Tamm";
    fact.game_date = "2026-11-25";
    fact.home_team = "Saltmarsh Herons";
    fact.away_team = "Otter Bay";
    fact.period = 2;
    fact.clock_s = 875.0;
    fact.depth_m = 1.2;
    fact.band = Band::conservative;
    fact.outcome = Outcome::goal;
    fact.verdict = Verdict::right_depth;
    CHECK(shot_words(fact) == "Ilse Tamm, 2026-11-25, Saltmarsh Herons - Otter Bay\nP2 14:35\n1.20 m out, "
                              "conservative, right depth\ngoal");
    fact.pass.emplace();
    fact.pass->depth_m = 2.1;
    fact.pass->band = Band::aggressive;
    fact.pass->verdict = Verdict::over_challenged;
    CHECK(shot_words(fact).find("2.10 m out at the pass, aggressive, over-challenged") != std::string::npos);
}

TEST_CASE(
    "between two lots stands the difference with its interval, and no winner that the shots do not know") {
    SideBySide compared;
    compared.goals.first = {4, 120};
    compared.goals.second = {22, 118};
    compared.goals.plain = newcombe_difference({4, 120}, {22, 118});
    compared.goals.within_like_plays = compared.goals.plain;
    compared.right_depth.first = {30, 60};
    compared.right_depth.second = {31, 60};
    compared.right_depth.plain = newcombe_difference({30, 60}, {31, 60});
    const auto said = side_by_side_sentences(compared, "Ilse Tamm", "Ada Berg");
    REQUIRE(said.size() == 2); // nobody called anything
    CHECK(said[0].starts_with(
        "Goals of unblocked attempts: Ilse Tamm 4 of 120, Ada Berg 22 of 118; in like plays "
        "(situation, what came, distance) fewer for Ilse Tamm, by .15 ("));
    CHECK(
        said[1].starts_with("Right depth: Ilse Tamm 30 of 60, Ada Berg 31 of 60; not enough shots to say ("));
}

TEST_CASE("every single shot on the plan can be pointed at, and the pointer means that one") {
    const auto facts = some_shots(200);
    const Scene scene = shots_on_plan(facts, short_winter());
    std::set<std::string> told;
    for (const SceneMark& mark : scene.marks) {
        const SceneMark* meant = mark_at(scene, mark.at);
        REQUIRE(meant);
        CHECK(std::hypot(meant->at.x - mark.at.x, meant->at.y - mark.at.y) < 1e-9);
        told.insert(mark.shot_id);
    }
    CHECK(told.size() == scene.marks.size());
    CHECK(told.size() > 190);
    const auto shot = std::ranges::find(facts, scene.marks.front().shot_id, &ShotFact::shot_id);
    REQUIRE(shot != facts.end());
    const IcePoint place = ice_on_plan(scene.marks.front().at, short_winter());
    CHECK(distance(place, *shot->puck_at) < 1e-9);
    CHECK(mark_at(scene, {5.0, 5.0}) == nullptr);
}

TEST_CASE("charts that stand side by side have one scale") {
    const auto facts = some_shots(400);
    const SeasonTally few = tally_season(std::span{facts}.first(60)), many = tally_season(facts);
    const auto axis = [](const Scene& scene) {
        std::vector<std::string> ticks;
        for (const SceneItem& item : scene.items)
            if (const auto* text = std::get_if<SceneText>(&item); text && text->ink == Ink::quiet_text)
                if (text->text.find_first_not_of("+-.0123456789") == std::string::npos)
                    ticks.push_back(text->text);
        return ticks;
    };
    CHECK(axis(goals_by_depth(few)) != axis(goals_by_depth(many)));
    CHECK(axis(goals_by_depth(few, &many)) == axis(goals_by_depth(many, &few)));
    CHECK(axis(differences_chart(few, &many)) == axis(differences_chart(many, &few)));
    const auto trend_axis = [&](const SeasonTally& tally, const SeasonTally& beside) {
        auto words = axis(trend_chart(tally.over_games, &beside.over_games));
        std::erase_if(words, [](const std::string& word) { return word.size() == 10; }); // dates
        return words;
    };
    CHECK(trend_axis(few, few) != trend_axis(many, many));
    CHECK(trend_axis(few, many) == trend_axis(many, few));
}

TEST_CASE("every depth of two sides lies on one axis") {
    auto facts = some_shots(40);
    facts.back().clearance_m = 3.2; // further out than the usual axis goes
    const std::span all{facts}, few = all.first(20);
    const auto place_of_first = [](const Scene& scene) { return scene.marks.front().at.x; };
    const double wide = place_of_first(depth_scatter(all, short_winter()));
    CHECK(std::abs(place_of_first(depth_scatter(few, short_winter())) - wide) > 0.01);
    CHECK(place_of_first(depth_scatter(few, short_winter(), DepthAxis::clearance, all)) == wide);
}

TEST_CASE("a field of many shots says its own count; games say theirs") {
    const auto facts = some_shots(3000);
    int shots = 0;
    for (const SceneMark& mark : shots_on_plan(facts, short_winter()).marks) {
        CHECK(mark.shot_id.empty());
        const auto of = mark.words.find(" of ");
        REQUIRE(of != std::string::npos);
        shots += std::stoi(mark.words.substr(of + 4));
    }
    CHECK(shots > 2900);
    const SeasonTally tally = tally_season(facts);
    const Scene trend = trend_chart(tally.over_games);
    CHECK(trend.marks.size() >= tally.over_games.games.size());
    CHECK(trend.marks.front().words.find("unblocked attempts went in") != std::string::npos);
}

TEST_CASE("pointed at, a share says its count and range, a difference what was taken from what") {
    const SeasonTally tally = tally_season(some_shots(400));
    const Scene bands = goals_by_depth(tally), differences = differences_chart(tally);
    REQUIRE(bands.marks.size() == 8);
    const Share base = tally.bands_on_shots[2].goals_of_unblocked();
    CHECK(bands.marks[4].words == "clear shots that went in, goalie base: " + share_words(base));
    REQUIRE_FALSE(differences.marks.empty());
    const Share out = tally.on_shots.out, inside = tally.on_shots.inside;
    CHECK(differences.marks.front().words.ends_with(fmt::format(
        "base or beyond less inside: {} of {} less {} of {}", out.hits, out.of, inside.hits, inside.of)));
}

TEST_CASE("agreement.csv has every word that both said, then the depth") {
    const auto first = some_shots(300);
    auto second = first;
    for (ShotFact& fact : second)
        if (fact.depth_m) *fact.depth_m -= 0.1;
    const ReviewAgreement agreement = agreement_of(first, second);
    CHECK(agreement.depth_shots.size() == agreement.depths_m.size());
    const std::string csv = agreement_csv(agreement);
    const auto lines = std::ranges::count(csv, '\n');
    CHECK(lines == static_cast<long>(agreement.words.size()) + 2);
    CHECK(csv.find("\r\noutcome,300,1,") != std::string::npos);
    CHECK(csv.find("\r\ndepth,") != std::string::npos);
}

} // namespace ropeline
