#include "season/derive.h"
#include "season/sample.h"

#include <doctest/doctest.h>

namespace ropeline {
namespace {

using sample::Folder;

/// A shot with everything a coach may log, another one that its rebound led to, and two opponents.
struct Logged {
    Folder folder;
    std::filesystem::path path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40), second = sample::shot(ids, 80, Outcome::goal);
    Moment moment;

    Logged() {
        file.put(second);
        shot.rebound_shot_id = second.id;
        shot.shooter_number = 0;
        shot.drill = "T-pushes";
        shot.tagged_by = "Ada Lind";
        shot.tags = {"back door", "scramble"};
        shot.details.set(Detail::shot_type, 4);
        shot.details.set(Detail::numbers, 8);
        shot.details.set(Detail::net_place, 6);
        shot.details.set(Detail::drill_state, 1);
        file.put(shot);
        moment = sample::moment(shot.id, ids);
        moment.marks.push_back({{}, MarkKind::threat, std::nullopt, IcePoint{3.0, 5.0}, std::nullopt});
        moment.marks.push_back({{}, MarkKind::threat, std::nullopt, IcePoint{-3.0, 4.0}, std::nullopt});
        moment.marks.back().took = true;
        moment.details.set(Detail::sight, 3);
        moment.details.set(Detail::feet, 1);
        moment.details.set(Detail::post, 2);
        file.put(moment);
    }
};

} // namespace

TEST_CASE("every choice of every detail is in the file as it was put, and not known is NULL") {
    Logged logged;
    for (int index = 0; index < detail_count; ++index) {
        const auto detail = static_cast<Detail>(index);
        const DetailFact& fact = fact_of(detail);
        const std::string column = "SELECT " + std::string{fact.key} + " FROM " +
                                   (fact.of_moment ? "moment" : "shot") + " WHERE frame = 40";
        for (int choice = static_cast<int>(fact.choices.size()); choice >= 0; --choice) {
            Details& details = fact.of_moment ? logged.moment.details : logged.shot.details;
            details.set(detail, choice);
            logged.file.put(logged.shot);
            logged.file.put(logged.moment);
            const Details back = fact.of_moment ? logged.file.moments(logged.shot.id).at(0).details
                                                : logged.file.shots(logged.ids.game).at(0).details;
            CHECK(back == details);
            CHECK(sample::value(logged.path, column) ==
                  (choice > 0 ? fact.choices[static_cast<std::size_t>(choice - 1)].key : ""));
        }
        CHECK(sample::value(logged.path, column + " AND " + std::string{fact.key} + " IS NULL") == "");
    }
}

TEST_CASE("a shot keeps its words, its shooter and the shot its rebound led to") {
    const Logged logged;
    const Shot back = logged.file.shots(logged.ids.game).at(0);
    CHECK(back.tags == std::vector<std::string>{"back door", "scramble"});
    CHECK(back.drill == "T-pushes");
    CHECK(back.tagged_by == "Ada Lind");
    CHECK(back.shooter_number == 0);
    CHECK(back.rebound_shot_id == logged.second.id);
    CHECK(logged.file.tags() == back.tags);
    const auto marks = logged.file.moments(back.id).at(0).marks;
    CHECK_FALSE(marks.at(2).took);
    CHECK(marks.at(3).took);
}

TEST_CASE("shot_facts says all that was logged, and the coach's word on the feet beats the derived one") {
    Logged logged;
    sample::run(logged.path, "UPDATE moment SET standing_still = 0");
    const auto facts = logged.file.shot_facts();
    REQUIRE(facts.size() == 2);
    const ShotFact& fact = facts[0];
    CHECK(key_of(fact.details, Detail::sight) == "screened");
    CHECK(key_of(fact.details, Detail::post) == "down");
    CHECK(key_of(fact.details, Detail::shot_type) == "backhand");
    CHECK(key_of(fact.details, Detail::net_place) == "low_blocker");
    CHECK(fact.set == true);
    CHECK(fact.tags == "back door, scramble");
    CHECK(fact.rebound_shot_id == logged.second.id);
    CHECK(fact.tagged_by == "Ada Lind");
    REQUIRE(fact.took_at);
    CHECK(fact.took_at->x_m == -3.0);
    const auto one = [&](const std::string& column) {
        return sample::value(logged.path, "SELECT " + column + " FROM shot_facts WHERE shot_id = '" +
                                              logged.shot.id + "'");
    };
    CHECK(one("attackers") == "3");
    CHECK(one("defenders") == "2");
    CHECK(one("took_y_m") == "4.0");
    CHECK_FALSE(facts[1].took_at);
    CHECK(facts[1].details == Details{});
    CHECK(facts[1].tags.empty());
}

TEST_CASE(
    "undo takes tags, details, who got the pass and what is asked for back, and redo brings them again") {
    Logged logged;
    recompute(logged.file);
    const std::string before = sample::dump(logged.path);
    logged.file.change("all of it", [&] {
        logged.shot.tags = {"scramble", "screen"};
        logged.shot.details = {};
        logged.shot.rebound_shot_id.clear();
        logged.file.put(logged.shot);
        logged.moment.marks.back().took = false;
        logged.moment.details = {};
        logged.file.put(logged.moment);
        logged.file.put_ask("sight", true);
        recompute(logged.file);
    });
    const std::string after = sample::dump(logged.path);
    REQUIRE(before != after);
    CHECK(logged.file.asks() == std::set<std::string>{"sight"});
    CHECK(logged.file.undo());
    CHECK(sample::dump(logged.path) == before);
    CHECK(logged.file.asks().empty());
    CHECK(logged.file.redo());
    CHECK(sample::dump(logged.path) == after);
}

TEST_CASE("removing the shot a rebound led to leaves the first shot without it, and undo joins them again") {
    Logged logged;
    recompute(logged.file);
    const std::string before = sample::dump(logged.path);
    logged.file.remove_shot(logged.second.id);
    CHECK(logged.file.shots(logged.ids.game).at(0).rebound_shot_id.empty());
    CHECK(logged.file.undo());
    CHECK(sample::dump(logged.path) == before);
    logged.file.remove_shot(logged.shot.id);
    CHECK(sample::value(logged.path, "SELECT count(*) FROM tag") == "0");
    CHECK(logged.file.undo());
    CHECK(sample::dump(logged.path) == before);
}

TEST_CASE("what cannot be is refused in one line, and nothing is changed") {
    Logged logged;
    const std::string before = sample::dump(logged.path);
    const auto refused = [&](const std::function<void()>& body, const char* says) {
        const auto refusal = sample::refusal_of(body);
        CHECK(refusal.fault == SeasonFault::refused);
        CHECK(refusal.text.find('\n') == std::string::npos);
        CHECK(refusal.text.find(says) != std::string::npos);
        CHECK(sample::dump(logged.path) == before);
    };
    refused(
        [&] {
            Moment two = logged.moment;
            two.marks[2].took = true;
            logged.file.put(two);
        },
        "two opponents");
    refused(
        [&] {
            Shot shot = logged.shot;
            shot.shooter_number = 100;
            logged.file.put(shot);
        },
        "shooter's number");
    refused(
        [&] {
            Shot shot = logged.shot;
            shot.tags.emplace_back(200, 'a');
            logged.file.put(shot);
        },
        "tag");
    refused(
        [&] {
            Goalie goalie = logged.file.goalies().at(0);
            goalie.height_m = 18.5;
            logged.file.put(goalie);
        },
        "height");
}

TEST_CASE("a goalie's own figures and the name of who tags come back as they were put") {
    Logged logged;
    Goalie goalie = logged.file.goalies().at(0);
    CHECK_FALSE(goalie.height_m);
    goalie.height_m = 1.91;
    goalie.lateral_speed_mps = 3.5;
    logged.file.put(goalie);
    CHECK(logged.file.goalies().at(0).height_m == 1.91);
    CHECK_FALSE(logged.file.goalies().at(0).blocking_width_m);
    CHECK(logged.file.goalies().at(0).lateral_speed_mps == 3.5);
    Season season = logged.file.season();
    season.reviewer = "Ada Lind";
    logged.file.put(season);
    CHECK(logged.file.season().reviewer == "Ada Lind");
}

} // namespace ropeline
