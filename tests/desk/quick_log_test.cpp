// Logging shot after shot by keys and clicks: what it costs a coach's hands, whether the window ever stalls, and
// whether the season file holds what the film shows.
#include "desk/fitted_film.h"
#include "desk/keystroke_level.h"

#include "season/season_file.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

using namespace ropeline;
using namespace ropeline::test;

namespace {

constexpr std::size_t shots = 10;

double median(std::vector<double> values) {
    REQUIRE_FALSE(values.empty());
    std::ranges::sort(values);
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

/// Sends what the hands do and counts it.
struct CountedHand {
    const FittedFilm& film;
    std::int64_t frame = 0;
    KeystrokeLevel cost{};

    void key(const std::string& chord) {
        cost.key(chord);
        film.desk->key(chord);
    }
    void click(IcePoint at) {
        cost.click();
        film.hand->film(film.truth.seen(at, frame));
    }
    void card(std::size_t chance) {
        cost.think();
        for (const int number : card_keys(film.truth.json["chances"][chance]))
            key(std::to_string(number));
        key("Return");
    }
};

std::vector<IcePoint> threats_of(const nlohmann::json& moment) {
    std::vector<IcePoint> all;
    for (const auto& threat : moment["threats"])
        all.push_back(ice(threat["at"]));
    return all;
}

/// One ordinary shot: both skates, the puck, one opponent where there is one, the card.
double log_by_clicks(const FittedFilm& film, std::size_t chance) {
    const auto& moment = film.truth.release(chance);
    CountedHand hand{film, moment["frame"].get<std::int64_t>()};
    hand.cost.think();
    hand.key("n");
    for (const auto& skate : moment["skates"])
        hand.click(ice(skate));
    hand.click(ice(moment["puck"]));
    if (const auto threats = threats_of(moment); !threats.empty()) hand.click(threats.front());
    hand.card(chance);
    return hand.cost.seconds();
}

/// The same shot logged once more some frames on: the faint marks are kept, followed where the program is sure of it; the
/// puck is clicked.
double log_by_ghosts(const FittedFilm& film, std::size_t chance, std::int64_t frame) {
    const auto& moment = film.truth.release(chance);
    CountedHand hand{film, frame};
    hand.cost.think();
    hand.key("n");
    hand.cost.think();
    hand.key("e");
    hand.click(ice(moment["puck"]));
    if (!threats_of(moment).empty()) hand.key("e");
    hand.card(chance);
    return hand.cost.seconds();
}

const Mark* threat_of(const Moment& moment) {
    const auto found = std::ranges::find(moment.marks, MarkKind::threat, &Mark::kind);
    return found == moment.marks.end() ? nullptr : &*found;
}

} // namespace

TEST_CASE("ten shots by keys and clicks, ten more by keeping the faint marks, and the window keeps up") {
    constexpr std::int64_t later = 3; // frames from a shot to its second log
    FittedFilm at{"end_zone", chances_only(shots, 8)};
    const auto first_turn = at.desk->turns().size();

    std::vector<double> by_clicks;
    std::vector<double> by_ghosts;
    std::int64_t here = 0;
    for (std::size_t chance = 0; chance < shots; ++chance) {
        const auto frame = at.truth.release(chance)["frame"].get<std::int64_t>();
        go(*at.desk, here, frame);
        by_clicks.push_back(log_by_clicks(at, chance));
        go(*at.desk, frame, frame + later);
        by_ghosts.push_back(log_by_ghosts(at, chance, frame + later));
        here = frame + later;
        if (chance == 0) at.look("quick_log.png");
    }
    const auto turns = at.desk->turns();
    at.kill("ten_shots.png");

    double stall_ms = 0.0;
    for (std::size_t turn = first_turn; turn < turns.size(); ++turn)
        stall_ms = std::max(stall_ms, turns[turn].busy_ms);
    fmt::print("seconds per shot (keystroke-level model): median {:.2f}\n", median(by_clicks));
    fmt::print("with faint marks kept: median {:.2f}\n", median(by_ghosts));
    fmt::print("longest stall: {:.1f} ms in {} turns\n", stall_ms, turns.size() - first_turn);
    CHECK(median(by_clicks) <= 12.0);
    CHECK(median(by_ghosts) <= 9.0);

    const SeasonFile file = SeasonFile::open_to_read(at.season());
    auto facts = file.shot_facts();
    std::ranges::sort(facts, {}, &ShotFact::frame);
    REQUIRE(facts.size() == 2 * shots);
    int moves_followed = 0;
    int moves_missed = 0;
    for (std::size_t chance = 0; chance < shots; ++chance) {
        CAPTURE(chance);
        const auto& truth = at.truth.release(chance);
        const ShotFact& clicked = facts[2 * chance];
        const ShotFact& kept = facts[2 * chance + 1];
        CHECK(clicked.frame == truth["frame"].get<std::int64_t>());
        CHECK(kept.frame == clicked.frame + later);
        compare(clicked, at.truth, chance);
        const auto& now = at.truth.frame(kept.frame);
        const auto off = [&](const nlohmann::json& there) {
            return distance(*kept.goalie_at, ice(there["goalie"]));
        };
        const bool followed = off(now) < off(truth);
        compare(kept, at.truth, chance, followed ? now : truth);
        if (distance(ice(now["goalie"]), ice(truth["goalie"])) > 0.05)
            ++(followed ? moves_followed : moves_missed);
        const auto threats = threats_of(truth);
        for (const ShotFact* fact : {&clicked, &kept}) {
            const auto moments = file.moments(fact->shot_id);
            REQUIRE(moments.size() == 1);
            const Mark* threat = threat_of(moments.front());
            REQUIRE((threat != nullptr) == !threats.empty());
            if (threat) CHECK(distance(*threat->ice, threats.front()) < 0.25);
        }
    }
    fmt::print("goalies that had moved since: {} followed, {} left where they were\n", moves_followed,
               moves_missed);
}
