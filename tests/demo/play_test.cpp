// The play itself: repeatable, smooth, at speeds people and pucks reach, with the variety a coach needs.
#include "demo/play.h"
#include "depth/verdict.h"
#include "rink/rule_book.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <optional>
#include <vector>

using namespace ropeline;
using namespace ropeline::demo;

namespace {

const demo::Play& play() {
    static const demo::Play made = make_play(1, false);
    return made;
}

Reading reading_at(const ChanceMoment& moment) {
    const Instant& instant = play().frames[moment.frame];
    const auto& skates = instant.goalie.skates;
    return read_moment(stance_from_skates(skates[0], skates[1]), shadow_of(instant.puck),
                       rule_book(RuleBookId::nhl), parameters_for(Level::senior));
}

double gap(IcePoint a, IcePoint b) {
    return distance(a, b);
}

} // namespace

TEST_CASE("the same seed gives the same play, another seed another") {
    const demo::Play again = make_play(1, false), other = make_play(2, false);
    REQUIRE(again.frames.size() == play().frames.size());
    bool differs = false;
    for (std::size_t f = 0; f < again.frames.size(); f += 7) {
        CHECK(again.frames[f].goalie.at == play().frames[f].goalie.at);
        CHECK(again.frames[f].puck.x == play().frames[f].puck.x);
        CHECK(again.frames[f].skaters[3].at == play().frames[f].skaters[3].at);
        differs = differs || !(other.frames[f].skaters[3].at == play().frames[f].skaters[3].at);
    }
    CHECK(differs);
}

TEST_CASE("a minute of play and its first six seconds") {
    CHECK(play().frames.size() == 62 * film_rate_hz);
    const demo::Play brief = make_play(1, true);
    CHECK(brief.frames.size() == 6 * film_rate_hz);
    CHECK(brief.chances.size() >= 2);
    CHECK(brief.frames.back().goalie.at == play().frames[brief.frames.size() - 1].goalie.at);
}

TEST_CASE("nobody and nothing is faster than on a real rink") {
    // Skaters near 10 m/s at full speed, goalies 2.5 to 3.5 m/s in a slide, from memory; hardest shots of
    // this play 30 m/s, between the 29 m/s of elite slap shots (Woo et al.) and a camp's best wrist shots of
    // 31 to 33 m/s.
    double skater = 0.0, goalie = 0.0, puck = 0.0;
    for (std::size_t f = 1; f < play().frames.size(); ++f) {
        const Instant &before = play().frames[f - 1], &now = play().frames[f];
        for (std::size_t who = 0; who < now.skaters.size(); ++who) {
            skater = std::max(skater, gap(before.skaters[who].at, now.skaters[who].at) * film_rate_hz);
        }
        goalie = std::max(goalie, gap(before.goalie.at, now.goalie.at) * film_rate_hz);
        puck = std::max(puck, length(now.puck - before.puck) * film_rate_hz);
    }
    CHECK(skater < 10.0);
    CHECK(goalie < 3.0);
    CHECK(puck < 33.0);
    CHECK(puck > 25.0);
}

TEST_CASE("the goalie's place is the middle of the skates, a stance wide or a butterfly wide") {
    for (const Instant& instant : play().frames) {
        const auto& skates = instant.goalie.skates;
        CHECK(gap((skates[0] + skates[1]) * 0.5, instant.goalie.at) < 1e-9);
        const double width = gap(skates[0], skates[1]);
        CHECK(width > 0.45);
        CHECK(width < 1.75);
    }
}

TEST_CASE("players stay inside the boards and off each other") {
    const RuleBook& rules = rule_book(RuleBookId::nhl);
    for (const Instant& instant : play().frames) {
        for (std::size_t a = 0; a < instant.skaters.size(); ++a) {
            const IcePoint at = instant.skaters[a].at;
            CHECK(std::abs(at.x_m) < rules.rink_width.m / 2 - 0.3);
            CHECK(at.y_m > -rules.goal_line_to_boards.m + 0.3);
            for (std::size_t b = a + 1; b < instant.skaters.size(); ++b)
                CHECK(gap(at, instant.skaters[b].at) > 0.45);
        }
    }
}

TEST_CASE("the chances are what a coach would want to talk about") {
    REQUIRE(play().chances.size() >= 10);
    int wrong_reads = 0, goals = 0, stopped = 0, short_handed = 0;
    std::vector<Situation> kinds;
    for (const Chance& chance : play().chances) {
        wrong_reads += (chance.came == NextAction::pass) != (chance.read == Read::pass);
        goals += chance.outcome == Outcome::goal;
        stopped += is_save(chance.outcome);
        short_handed += chance.strength == Strength::short_handed;
        if (std::ranges::find(kinds, chance.situation) == kinds.end()) kinds.push_back(chance.situation);
        CHECK(std::ranges::is_sorted(chance.moments, {}, &ChanceMoment::frame));
        CHECK(chance.moments.back().kind == MomentKind::release);
        CHECK(chance.moments.back().frame < static_cast<int>(play().frames.size()));
    }
    CHECK(wrong_reads >= 3);
    CHECK(goals >= 2);
    CHECK(stopped >= 5);
    CHECK(short_handed == 2);
    CHECK(kinds.size() >= 5);
}

TEST_CASE("the puck is on the stick that passes, receives and shoots") {
    for (const Chance& chance : play().chances) {
        for (const ChanceMoment& moment : chance.moments) {
            if (moment.kind == MomentKind::rebound || moment.kind == MomentKind::entry) continue;
            const Instant& instant = play().frames[moment.frame];
            double nearest = 1e9;
            for (const SkaterPose& skater : instant.skaters)
                nearest = std::min(nearest, gap(skater.blade, shadow_of(instant.puck)));
            CAPTURE(chance.title);
            CHECK(nearest < 0.02);
            CHECK(instant.puck.z == doctest::Approx(0.0));
        }
    }
}

TEST_CASE("the film has its share of every verdict") {
    std::map<Verdict, int> verdicts;
    for (const Chance& chance : play().chances) {
        std::optional<Before> before;
        int before_frame = 0;
        for (const ChanceMoment& at : chance.moments) {
            if (at.kind != MomentKind::pass && at.kind != MomentKind::release) continue;
            const Instant& instant = play().frames[static_cast<std::size_t>(at.frame)];
            std::vector<Threat> threats;
            for (const ChanceThreat& one : at.threats)
                threats.push_back({instant.skaters[static_cast<std::size_t>(one.skater)].at,
                                   one.one_timer ? ReceiverKind::one_timer : ReceiverKind::stop,
                                   one.open ? Lane::open : Lane::contested, one.took});
            const auto& skates = instant.goalie.skates;
            MarkedMoment moment;
            moment.stance = stance_from_skates(skates[0], skates[1]);
            moment.puck = shadow_of(instant.puck);
            moment.threats = threats;
            moment.situation = chance.situation;
            if (before) before->seconds = static_cast<double>(at.frame - before_frame) / film_rate_hz;
            moment.before = before;
            ++verdicts[verdict_of(moment, rule_book(RuleBookId::nhl), parameters_for(Level::senior))];
            before = Before{instant.goalie.at, 0.0};
            before_frame = at.frame;
        }
    }
    for (const auto& [verdict, count] : verdicts)
        MESSAGE(label_of(verdict) << " " << count);
    CHECK(verdicts[Verdict::right_depth] >= 5);
    for (const Verdict verdict : {Verdict::over_challenged, Verdict::too_far_out, Verdict::sat_back,
                                  Verdict::off_angle, Verdict::beaten_across, Verdict::off_the_post})
        CHECK_MESSAGE(verdicts[verdict] >= 2, label_of(verdict));
}

TEST_CASE("depths tell the stories they are meant to tell") {
    const auto& chances = play().chances;
    const auto depth = [&](std::size_t number, MomentKind kind) {
        for (const ChanceMoment& moment : chances[number - 1].moments) {
            if (moment.kind == kind) return reading_at(moment);
        }
        FAIL("no such moment");
        return Reading{};
    };
    CHECK(depth(4, MomentKind::pass).band == Band::aggressive); // over-challenged before the cross-ice pass
    CHECK(std::abs(depth(4, MomentKind::release).off_angle_m) > 1.0); // and nowhere near the new angle
    CHECK(depth(5, MomentKind::release).band == Band::conservative);  // sat back on the rush
    CHECK(depth(5, MomentKind::release).coverage->covered < 0.75);
    CHECK(depth(7, MomentKind::release).clearance_m > 0.8);            // far out for the wide shot
    CHECK(std::abs(depth(8, MomentKind::release).off_angle_m) < 0.15); // in line on the breakaway
    CHECK(depth(12, MomentKind::release).off_angle_m > 0.25);          // off the line, saved all the same
}
