// From an empty folder to logged shots in the real window, then the season file against the film's truth.
#include "desk/fitted_film.h"

#include "season/season_file.h"
#include "short_demo.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <optional>

using namespace ropeline;
using namespace ropeline::test;

namespace {

std::size_t clock_mark_count(const std::filesystem::path& season) {
    try {
        const SeasonFile file = SeasonFile::open_to_read(season);
        std::size_t count = 0;
        for (const Film& film : file.films(file.games().front().id))
            count += file.clock_marks(film.id).size();
        return count;
    } catch (const SeasonError&) {
        return 0;
    }
}
bool one_clock_mark(const std::filesystem::path& season) {
    return clock_mark_count(season) == 1;
}
bool two_clock_marks(const std::filesystem::path& season) {
    return clock_mark_count(season) == 2;
}

void log_two_shots(const std::string& film_name) {
    FittedFilm at{film_name};
    const auto first = at.truth.release(0)["frame"].get<std::int64_t>();
    const auto second = at.truth.release(1)["frame"].get<std::int64_t>();
    go(*at.desk, 0, first);
    mark_and_choose(*at.hand, at.truth, 0);
    at.desk->key("Return");
    go(*at.desk, first, second);
    mark_and_choose(*at.hand, at.truth, 1);
    at.kill(film_name + ".png");

    const SeasonFile file = SeasonFile::open_to_read(at.season());
    const auto facts = file.shot_facts();
    REQUIRE(facts.size() == 2);
    const bool in_order =
        facts[0].outcome == from_key<Outcome>(at.truth.json["chances"][0]["outcome"].get<std::string>());
    compare(facts[in_order ? 0 : 1], at.truth, 0);
    compare(facts[in_order ? 1 : 0], at.truth, 1);
    CHECK(std::system(
              fmt::format("'{}' check '{}' >/dev/null", ROPELINE_PROGRAM, at.season().string()).c_str()) ==
          0);
}

const nlohmann::json& moment_of(const Truth& truth, std::size_t chance, const std::string& kind) {
    const auto& moments = truth.json["chances"][chance]["moments"];
    const auto found = std::find_if(moments.begin(), moments.end(),
                                    [&](const nlohmann::json& moment) { return moment["kind"] == kind; });
    REQUIRE(found != moments.end());
    return *found;
}

void mark_threats(const Clicker& hand, const Truth& truth, const nlohmann::json& moment) {
    for (const auto& threat : moment["threats"]) {
        hand.desk.key("r");
        hand.film(truth.seen(ice(threat["at"]), moment["frame"].get<std::int64_t>()));
        // From his place he is taken for one or the other; a turn changes that, two more come by the tip.
        const bool one_timer = threat["one_timer"].get<bool>();
        const bool taken_for_one = usual_kind(ice(threat["at"])) == ReceiverKind::one_timer;
        if (one_timer != taken_for_one) hand.desk.key(one_timer ? "y" : "y y");
        if (!threat["open"].get<bool>()) hand.desk.key("b");
    }
}

/// What the model says of the true positions.
struct TrueDecision {
    explicit TrueDecision(const nlohmann::json& moment, Situation situation, NextAction next,
                          std::optional<Before> before = {}) {
        for (const auto& threat : moment["threats"])
            threats.push_back({ice(threat["at"]),
                               threat["one_timer"].get<bool>() ? ReceiverKind::one_timer : ReceiverKind::stop,
                               threat["open"].get<bool>() ? Lane::open : Lane::contested});
        MarkedMoment marked;
        marked.stance = stance_from_skates(ice(moment["skates"][0]), ice(moment["skates"][1]));
        marked.puck = ice(moment["puck"]);
        marked.threats = threats;
        marked.situation = situation;
        marked.next = next;
        marked.before = before;
        decision = decide(marked, rule_book(RuleBookId::nhl), parameters_for(Level::senior));
    }
    std::vector<Threat> threats;
    Decision decision;
};

void compare_passes(const Moment& moment, const TrueDecision& truth) {
    std::vector<ThreatReading> passes;
    for (const Mark& mark : moment.marks) {
        if (mark.kind == MarkKind::threat && mark.pass) passes.push_back(*mark.pass);
    }
    REQUIRE(passes.size() == truth.threats.size());
    for (std::size_t index = 0; index < passes.size(); ++index) {
        CAPTURE(index);
        CHECK(std::abs(passes[index].late_s - truth.decision.threats[index].late_s) < 0.05);
        CHECK(std::abs(passes[index].spare_s - truth.decision.threats[index].spare_s) < 0.05);
        CHECK(std::abs(passes[index].pass_s - truth.decision.threats[index].pass_s) < 0.02);
    }
    REQUIRE(moment.judgement);
    REQUIRE(moment.judgement->advice);
    REQUIRE(truth.decision.advice);
    CHECK(std::abs(moment.judgement->advice->from_m - truth.decision.advice->from_m) < 0.10);
    CHECK(std::abs(moment.judgement->advice->to_m - truth.decision.advice->to_m) < 0.10);
}

} // namespace

TEST_CASE("a coach goes from an empty folder to two logged shots, and a killed desk loses nothing") {
    log_two_shots("end_zone");
}

TEST_CASE("the same on the camera that pans and zooms: the rink is followed from one fit") {
    log_two_shots("bench_side");
}

TEST_CASE("a game clock typed over the picture is kept; a wrong one is refused and typed again; a whistle is "
          "one key") {
    OpenFilm at{"end_zone"};
    at.desk->key("q");
    at.desk->type("2 14-35");
    at.desk->key("Return"); // refused: the field stays
    at.desk->settle();
    CHECK(clock_mark_count(at.season()) == 0);
    at.desk->type("2 14:35"); // what was refused is selected and goes
    at.desk->key("Return");
    CHECK(test::wait_for(10.0, one_clock_mark, at.season()));
    at.desk->key("ctrl+Right");
    at.desk->key("shift+q");
    CHECK(test::wait_for(10.0, two_clock_marks, at.season()));
    at.desk->key("Left Left n");
    at.desk->settle();
    at.kill("clock.png");

    const SeasonFile file = SeasonFile::open_to_read(at.season());
    const Id film = file.films(file.games().front().id).front().id;
    const auto marks = file.clock_marks(film);
    REQUIRE(marks.size() == 2);
    CHECK(marks[0].frame == 0);
    CHECK(marks[0].period == 2);
    CHECK(marks[0].clock_s == 875.0);
    CHECK_FALSE(marks[1].running);
    CHECK(marks[1].clock_s == doctest::Approx(874.0).epsilon(1e-4));
    const auto facts = file.shot_facts();
    REQUIRE(facts.size() == 1);
    CHECK(facts[0].period == 2);
    CHECK(facts[0].clock_s == doctest::Approx(875.0 - (facts[0].film_s - marks[0].film_s)));
}

TEST_CASE("a play of two moments with opponents to pass to: how late, advice and verdict are kept") {
    FittedFilm at{"end_zone"};
    const auto& release = moment_of(at.truth, 0, "release");
    const auto& pass = moment_of(at.truth, 0, "pass");
    const auto release_frame = release["frame"].get<std::int64_t>();
    const auto pass_frame = pass["frame"].get<std::int64_t>();
    go(*at.desk, 0, release_frame);
    mark_and_choose(*at.hand, at.truth, 0);
    mark_threats(*at.hand, at.truth, release);
    go(*at.desk, release_frame, pass_frame);
    at.desk->key("a");
    for (const auto& skate : pass["skates"])
        at.hand->film(at.truth.seen(ice(skate), pass_frame));
    at.hand->film(at.truth.seen(ice(pass["puck"]), pass_frame));
    mark_threats(*at.hand, at.truth, pass);
    at.kill("play.png");

    const SeasonFile file = SeasonFile::open_to_read(at.season());
    const auto facts = file.shot_facts();
    REQUIRE(facts.size() == 1);
    const auto moments = file.moments(facts[0].shot_id);
    REQUIRE(moments.size() == 2);
    CHECK(moments[0].kind == MomentKind::pass);
    CHECK(moments[0].frame == pass_frame);
    CHECK(moments[1].kind == MomentKind::release);
    CHECK(moments[1].frame == release_frame);
    const auto situation = from_key<Situation>(at.truth.json["chances"][0]["situation"].get<std::string>());
    REQUIRE(situation);
    const TrueDecision at_pass{pass, *situation, NextAction::pass};
    const double between_s = static_cast<double>(release_frame - pass_frame) / 30.0;
    const TrueDecision at_release{release, *situation, NextAction::shot,
                                  Before{ice(pass["goalie"]), between_s}};
    compare_passes(moments[0], at_pass);
    compare_passes(moments[1], at_release);
    CHECK(model_verdict(moments[0]) == at_pass.decision.verdict);
    CHECK(model_verdict(moments[1]) == at_release.decision.verdict);

    CHECK(facts[0].moment_id == moments[1].id);
    CHECK(facts[0].verdict == at_release.decision.verdict);
    REQUIRE(facts[0].advised_to_m);
    CHECK(*facts[0].advised_to_m == doctest::Approx(moments[1].judgement->advice->to_m));
    REQUIRE(facts[0].least_spare_s);
    const auto spare_s = [](const ThreatReading& one) { return one.spare_s - one.late_s; };
    const auto least = std::ranges::min_element(at_release.decision.threats, {}, spare_s);
    CHECK(std::abs(*facts[0].least_spare_s - spare_s(*least)) < 0.05);
}

TEST_CASE("the desk stays usable when the film has moved away, and finds it again") {
    const Place place;
    copy_short_demo(place.path / "demo");
    const auto season = place.path / "demo" / "demo.season";
    std::filesystem::rename(place.path / "demo" / "end_zone.mp4", place.path / "home" / "elsewhere.mp4");
    const VirtualDisplay display;
    DeskWindow desk{display, place.path / "home", "'" + season.string() + "'"};
    desk.key("Down Down F4 F3 F2");
    CHECK(desk.running());
    CHECK(SeasonFile::open_to_read(season).shot_facts().size() > 100);
    desk.key("o");
    // The film's new place is typed into the field of the games page; Tab walks past date and teams.
    desk.key("Tab Tab Tab Tab");
    desk.type((place.path / "home" / "elsewhere.mp4").string());
    desk.key("Return");
    const auto found_again = [](const std::filesystem::path& path) {
        try {
            const SeasonFile file = SeasonFile::open_to_read(path);
            for (const Film& one : file.films(file.games().back().id)) {
                if (one.path.find("elsewhere.mp4") != std::string::npos) return true;
            }
        } catch (const SeasonError&) {
        }
        return false;
    };
    CHECK(test::wait_for(60.0, found_again, season));
    const SeasonFile file = SeasonFile::open_to_read(season);
    CHECK(file.films(file.games().back().id).size() == 2);
    CHECK(desk.running());
}

TEST_CASE("a scorer's list typed on the games page comes in, is found, filled in from the list, and undone") {
    const Place place;
    copy_short_demo(place.path / "demo");
    const auto season = place.path / "demo" / "demo.season";
    const auto list = place.path / "home" / "list.csv";
    std::ofstream(list, std::ios::binary) << "film time;outcome;note\r\n"
                                             "0:00,5;goal;\"he said \"\"pass\"\"; <b>twice</b>\"\r\n"
                                             "0:02;woosh;\r\n"
                                             "0:04,2;wide;\r\n";
    const auto noted = [](const std::filesystem::path& path) {
        std::vector<ShotFact> facts;
        try {
            facts = SeasonFile::open_to_read(path).shot_facts();
        } catch (const SeasonError&) {
        }
        std::erase_if(
            facts, [](const ShotFact& fact) { return fact.note.find("<b>twice</b>") == std::string::npos; });
        return facts;
    };
    const VirtualDisplay display;
    DeskWindow desk{display, place.path / "home", "'" + season.string() + "'"};
    desk.settle();
    const std::size_t before = SeasonFile::open_to_read(season).shot_facts().size();
    desk.key("o");
    desk.key("Tab Tab Tab Tab"); // past date and teams to the field of films and lists
    desk.type(list.string());
    desk.key("Return");
    desk.settle();
    desk.key("Return");
    desk.settle();
    CHECK(SeasonFile::open_to_read(season).shot_facts().size() == before + 2);
    REQUIRE(noted(season).size() == 1);
    CHECK(noted(season)[0].film_s == doctest::Approx(0.5).epsilon(0.05));
    CHECK(noted(season)[0].outcome == Outcome::goal);

    // Found by words, then its outcome is changed on the whole page with the keys alone.
    desk.key("ctrl+f");
    desk.type("goal open");
    desk.key("Down Return shift+e Tab Tab Tab Tab 4");
    desk.settle();
    const auto changed = noted(season);
    REQUIRE(changed.size() == 1);
    CHECK(changed[0].outcome == Outcome::post);
    desk.key("ctrl+z ctrl+z");
    desk.settle();
    CHECK(SeasonFile::open_to_read(season).shot_facts().size() == before);
    CHECK(desk.running());
}
