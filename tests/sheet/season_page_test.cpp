#include "sheet/csv.h"
#include "sheet/season_charts.h"
#include "sheet/season_page.h"
#include "sheet/season_words.h"
#include "sheet/svg.h"
#include "tally/simulated_league.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

Season winter() {
    Season season;
    season.name = "Winter <b>\"& it's\"";
    season.parameters = parameters_for(season.level);
    return season;
}

std::vector<ShotFact> league(int attempts, int goalies = 8) {
    simulated::League made;
    made.attempts = attempts;
    made.goalies = goalies;
    std::mt19937_64 random{9};
    return simulated::season(made, random);
}

int count_of(const std::string& text, std::string_view word) {
    int count = 0;
    for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1))
        ++count;
    return count;
}

/// Everything drawn is on the picture.
void check_inside(const Scene& scene) {
    CAPTURE(scene.title);
    double low = 0.0, right = 1.0, top = 0.0, bottom = 0.0;
    const auto see = [&](const ScenePoint& at) {
        CHECK(std::isfinite(at.x));
        CHECK(std::isfinite(at.y));
        low = std::min(low, at.x);
        right = std::max(right, at.x);
        top = std::min(top, at.y);
        bottom = std::max(bottom, at.y);
    };
    for (const SceneItem& item : scene.items) {
        if (const auto* fill = std::get_if<SceneFill>(&item)) std::ranges::for_each(fill->points, see);
        if (const auto* stroke = std::get_if<SceneStroke>(&item)) std::ranges::for_each(stroke->points, see);
        if (const auto* text = std::get_if<SceneText>(&item)) see(text->at);
    }
    CHECK(low > -0.001);
    CHECK(right < 1.001);
    CHECK(top > -0.001);
    CHECK(bottom <= scene.height + 0.001);
    CHECK_FALSE(scene.description.empty());
}

} // namespace

TEST_CASE("the page is one file: nothing is fetched, no script runs, every text is escaped") {
    auto facts = league(600);
    for (ShotFact& fact : facts) {
        fact.goalie = "<script>alert(1)</script> " + fact.goalie;
        fact.team = "A & \"B\"";
    }
    const std::string page = season_page(winter(), facts, "O'Dell <x>");
    CHECK(page.starts_with("<!doctype html>"));
    CHECK(page.ends_with("</html>\n"));
    for (const char* never : {"<script", "src=", "href=", "url(", "@import", "<link", "javascript:"}) {
        CAPTURE(never);
        CHECK(page.find(never) == std::string::npos);
    }
    CHECK(count_of(page, "http://") == count_of(page, "http://www.w3.org/2000/svg"));
    CHECK(page.find("Winter &lt;b&gt;&quot;&amp; it&#39;s&quot;") != std::string::npos);
    CHECK(page.find("&lt;script&gt;alert(1)") != std::string::npos);
    CHECK(page.find("O&#39;Dell &lt;x&gt;") != std::string::npos);
    CHECK(page.find("default-src 'none'") != std::string::npos);
    CHECK(count_of(page, "<svg ") == 6);
    CHECK(page.find(first_sentence(tally_season(facts))) != std::string::npos);
}

TEST_CASE("a season with nothing logged is a page that says so") {
    const std::string page = season_page(winter(), {});
    CHECK(page.find("Nothing can be said of depth yet") != std::string::npos);
    CHECK(page.find("nan") == std::string::npos);
}

TEST_CASE("every chart stays on its picture, on none, one, few and many shots") {
    for (const int attempts : {0, 1, 40, 249, 3000}) {
        CAPTURE(attempts);
        const auto facts = league(attempts);
        const SeasonTally tally = tally_season(facts);
        check_inside(shots_on_plan(facts, winter()));
        check_inside(goals_by_depth(tally));
        check_inside(differences_chart(tally));
        if (tally.goal_chance) check_inside(goal_chance_chart(*tally.goal_chance));
        check_inside(given_away_chart(tally.over_games));
        check_inside(trend_chart(tally.over_games));
        check_inside(agreement_chart(agreement_of(facts, facts)));
    }
}

TEST_CASE("shots are drawn one by one while they are few, then counted in fields that hold all of them") {
    const auto few = league(200);
    int goals = 0;
    for (const SceneItem& item : shots_on_plan(few, winter()).items)
        if (const auto* fill = std::get_if<SceneFill>(&item)) goals += fill->ink == Ink::goal;
    CHECK(goals ==
          1 + std::ranges::count(few, std::optional{Outcome::goal}, &ShotFact::outcome)); // one in the legend

    const auto many = league(2000);
    int of = 0, shown = 0;
    for (const SceneItem& item : shots_on_plan(many, winter()).items)
        if (const auto* text = std::get_if<SceneText>(&item))
            if (const auto slash = text->text.find('/'); slash != std::string::npos)
                of += std::stoi(text->text.substr(slash + 1));
    for (const ShotFact& fact : many)
        shown += fact.puck_at->y_m < 19.5;
    CHECK(of == shown);
}

TEST_CASE("a shot from the face-off spot is at 69 and 22 feet in the frame of public lists") {
    // NHL Rule 1.9: the spot is 20 ft from the goal line and 22 ft from the axis; the goal line 89 ft from the red line.
    std::vector<ShotFact> facts(2);
    facts[0].shot_id = "spot";
    facts[0].puck_at = IcePoint{6.7056, 6.096};
    facts[0].goalie = "=1+1";
    const std::string csv = shots_in_feet_csv(facts, winter());
    CHECK(csv.starts_with("shot_id,game_date,goalie,period,clock_s,outcome,x_ft,y_ft\r\nspot,,'=1+1,,,,"));
    CHECK(count_of(csv, "\r\n") == 2);
    const auto last = csv.rfind(','), before = csv.rfind(',', last - 1);
    CHECK(std::abs(std::stod(csv.substr(before + 1)) - 69.0) < 0.01);
    CHECK(std::abs(std::stod(csv.substr(last + 1)) - 22.0) < 1e-6);
}

TEST_CASE("groups.csv has every shot once in every cut") {
    const auto facts = league(500);
    const SeasonTally tally = tally_season(facts);
    CHECK(tally.cuts.size() == 14);
    for (const CutGroups& cut : tally.cuts) {
        CAPTURE(std::string{key_of(cut.cut)});
        int logged = 0;
        for (const Group& group : cut.groups)
            logged += group.counts.logged;
        CHECK(logged == 500);
    }
    const std::string csv = groups_csv(tally);
    CHECK(csv.find("\r\nsituation,rush,") != std::string::npos);
    CHECK(csv.find("\r\ndistance,12 to 18 m,") != std::string::npos);
}

} // namespace ropeline
