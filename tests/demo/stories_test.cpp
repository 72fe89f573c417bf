// The invented season against the depth model: the stories are told without it, so its verdicts can be held
// against what the coach says.
#include "demo/season_people.h"
#include "demo/season_shots.h"
#include "depth/verdict.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <string>

using namespace ropeline;
using namespace ropeline::demo;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);

const std::vector<LoggedShot>& season() {
    static const std::vector<LoggedShot> shots = invent_shots(nhl, 1);
    return shots;
}

Verdict judged(const LoggedShot& shot, std::size_t index) {
    const LoggedMoment& logged = shot.moments[index];
    MarkedMoment moment;
    moment.stance = stance_from_skates(logged.skates[0], logged.skates[1]);
    moment.puck = logged.puck;
    moment.threats = logged.threats;
    moment.situation = shot.situation;
    moment.likelihood = logged.body;
    moment.sight = shot.story->sight;
    if (index > 0) {
        const auto& before = shot.moments[index - 1].skates;
        moment.before = Before{(before[0] + before[1]) * 0.5, logged.after_s};
    }
    return verdict_of(moment, nhl, parameters_for(Level::senior));
}

using Counts = std::map<Verdict, int>;

std::string in_words(const Counts& counts) {
    std::string text;
    for (const auto& [verdict, count] : counts)
        text += " " + std::string{label_of(verdict)} + " " + std::to_string(count) + ";";
    return text;
}

} // namespace

TEST_CASE("the season has every verdict, and most right depths are the good reader's") {
    Counts at_release, at_pass;
    std::array<Counts, keepers.size()> by_keeper;
    for (const LoggedShot& shot : season()) {
        for (std::size_t i = 0; i < shot.moments.size(); ++i) {
            const Verdict verdict = judged(shot, i);
            ++(shot.moments[i].kind == MomentKind::pass ? at_pass : at_release)[verdict];
            ++by_keeper[static_cast<std::size_t>(planned_games()[static_cast<std::size_t>(shot.game)].keeper)]
                       [verdict];
        }
    }
    MESSAGE("at the release:" << in_words(at_release));
    MESSAGE("at the pass:" << in_words(at_pass));
    std::array<double, keepers.size()> right{};
    for (std::size_t keeper = 0; keeper < keepers.size(); ++keeper) {
        MESSAGE(keepers[keeper].name << ":" << in_words(by_keeper[keeper]));
        int all = 0;
        for (const auto& [verdict, count] : by_keeper[keeper])
            all += count;
        right[keeper] = static_cast<double>(by_keeper[keeper][Verdict::right_depth]) / all;
    }
    for (const Verdict verdict :
         {Verdict::right_depth, Verdict::over_challenged, Verdict::too_far_out, Verdict::sat_back,
          Verdict::off_angle, Verdict::beaten_across, Verdict::off_the_post}) {
        CAPTURE(label_of(verdict));
        CHECK(at_release[verdict] >= 2);
    }
    CHECK(at_pass[Verdict::over_challenged] >= 10);
    CHECK(at_release[Verdict::not_judged] + at_pass[Verdict::not_judged] == 0);
    CHECK(std::ranges::max_element(right) - right.begin() == 2);
    CHECK(right[2] > right[0] + 0.1);
}

TEST_CASE("three in four decisions are judged as the coach tells them") {
    int all = 0, as_told = 0;
    std::map<Verdict, Counts> told;
    for (const LoggedShot& shot : season()) {
        const Verdict verdict = judged(shot, 0);
        ++all;
        as_told += verdict == shot.way->told;
        ++told[shot.way->told][verdict];
    }
    MESSAGE(as_told << " of " << all << " as told");
    for (const auto& [word, counts] : told) {
        MESSAGE("told " << label_of(word) << ":" << in_words(counts));
        CHECK(std::ranges::max_element(counts, {}, [](const auto& one) { return one.second; })->first ==
              word);
    }
    CHECK(as_told > 0.75 * all);
}

TEST_CASE("nobody is told to have sat back after a pass that left no time") {
    int out_of_reach = 0;
    for (const LoggedShot& shot : season()) {
        if (shot.moments.size() < 2) continue;
        const Verdict verdict = judged(shot, 1);
        out_of_reach += verdict == Verdict::beaten_across;
        CHECK(verdict != Verdict::sat_back);
    }
    CHECK(out_of_reach >= 20);
}

TEST_CASE("every goalie has a way of playing every story, at places on the ice") {
    for (const Story& story : stories()) {
        CAPTURE(story.title);
        for (std::size_t keeper = 0; keeper < keepers.size(); ++keeper) {
            double weights = 0.0;
            for (const auto& way : story.ways)
                weights += way.by_keeper[keeper];
            CHECK(weights > 0.0);
        }
        CHECK(std::ranges::count(story.mates, true, &Mate::took) <= 1);
    }
    for (const LoggedShot& shot : season()) {
        for (const LoggedMoment& moment : shot.moments) {
            CAPTURE(shot.way->said);
            const IcePoint goalie = (moment.skates[0] + moment.skates[1]) * 0.5;
            CHECK(goalie.y_m > 0.05);
            CHECK(length(goalie) < 3.6);
            CHECK(distance(goalie, moment.puck) > 0.5);
        }
    }
}
