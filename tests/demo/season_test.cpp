// The demo's season: enough of everything, plausible, and true to the film it carries.
#include "demo/demo.h"
#include "demo/demo_season.h"
#include "demo/filming.h"
#include "demo/made_demo.h"
#include "demo/season_people.h"
#include "film/fingerprint.h"
#include "season/derive.h"
#include "season/season_file.h"
#include "short_demo.h"

#include <doctest/doctest.h>

#include <fstream>
#include <map>
#include <set>

using namespace ropeline;
using namespace ropeline::demo;

namespace {

SeasonFile made_season() {
    return SeasonFile::open_to_read(test::short_demo() / "demo.season");
}

struct Record {
    int on_goal = 0, saves = 0;
    double share() const { return static_cast<double>(saves) / on_goal; }
};

template <class Wanted>
Record record_of(const std::vector<ShotFact>& facts, Wanted wanted) {
    Record record;
    for (const ShotFact& fact : facts) {
        if (!fact.outcome || !is_shot_on_goal(*fact.outcome) || !wanted(fact)) continue;
        ++record.on_goal;
        record.saves += is_save(*fact.outcome);
    }
    return record;
}

} // namespace

TEST_CASE("league, clubs, goalies, games and a few hundred shots") {
    const SeasonFile file = made_season();
    CHECK(file.season().league == league_name);
    CHECK(file.teams().size() == 7);
    CHECK(file.goalies().size() == 3);
    CHECK(file.games().size() == 14);
    const auto facts = file.shot_facts();
    CHECK(facts.size() >= 350);
    std::set<std::string> goalies;
    for (const ShotFact& fact : facts) {
        goalies.insert(fact.goalie);
        REQUIRE(fact.depth_m);
        REQUIRE(fact.puck_at);
        // On his way across, or beside the post with the puck behind the net: measured along the puck's line he may
        // stand a little behind the middle of the net. Everybody else is out of it.
        const bool beside = fact.verdict == Verdict::beaten_across || fact.verdict == Verdict::off_the_post;
        CHECK(*fact.depth_m > (beside ? -0.5 : 0.1));
        CHECK(*fact.depth_m < 4.0);
        if (fact.puck_at->y_m > 0) CHECK(fact.coverage);
        CHECK(fact.situation);
        CHECK(fact.read);
    }
    CHECK(goalies.size() == 3);
}

TEST_CASE("save percentages lie where published ones do") {
    // Professional averages .900 to .915; after a pass across the long axis 15 to 30 of 100 go in; rebounds
    // .53 to .87 by the second after the first shot: volunteer tracking and play-by-play studies, ranges as
    // in trade literature.
    const auto facts = made_season().shot_facts();
    const Record all = record_of(facts, [](const ShotFact&) { return true; });
    CHECK(all.on_goal > 250);
    CHECK(all.share() > 0.89);
    CHECK(all.share() < 0.92);
    const Record passed =
        record_of(facts, [](const ShotFact& fact) { return fact.came == NextAction::pass; });
    const Record straight =
        record_of(facts, [](const ShotFact& fact) { return fact.came == NextAction::shot; });
    CHECK(passed.on_goal > 40);
    CHECK(passed.share() > 0.70);
    CHECK(passed.share() < 0.85);
    CHECK(straight.share() > passed.share() + 0.05);
    const Record rebounds =
        record_of(facts, [](const ShotFact& fact) { return fact.situation == Situation::rebound; });
    CHECK(rebounds.share() < all.share());
    std::map<Band, int> bands;
    for (const ShotFact& fact : facts)
        ++bands[*fact.band];
    CHECK(bands[Band::conservative] > 40);
    CHECK(bands[Band::base] > 80);
    CHECK(bands[Band::aggressive] > 20);
    CHECK(bands[Band::defensive] >= 1);
}

TEST_CASE("every figure is the depth model's own") {
    const SeasonFile file = made_season();
    const Parameters parameters = file.season().parameters;
    int count = 0;
    for (const Game& game : file.games()) {
        std::map<Id, RinkFit> fits;
        for (const Film& film : file.films(game.id)) {
            for (const StoredFit& fit : file.rink_fits(film.id))
                fits[fit.id] = fit.fit;
        }
        for (const Shot& shot : file.shots(game.id)) {
            for (Moment moment : file.moments(shot.id)) {
                const Moment stored = moment;
                const auto fit = fits.find(moment.rink_fit_id);
                derive(moment, fit == fits.end() ? nullptr : &fit->second, rule_book(game.rules), parameters);
                REQUIRE(moment.reading);
                REQUIRE(stored.reading);
                CHECK(moment.reading->depth_m == doctest::Approx(stored.reading->depth_m).epsilon(1e-6));
                CHECK(moment.reading->band == stored.reading->band);
                ++count;
            }
        }
    }
    CHECK(count > 400);
}

TEST_CASE("every verdict is the depth model's own, and there is something of each to study") {
    const auto copy = own_folder("judged") / "demo.season";
    std::filesystem::copy_file(test::short_demo() / "demo.season", copy);
    SeasonFile file = SeasonFile::open(copy);
    const auto stored = file.shot_facts();
    recompute(file);
    const auto again = file.shot_facts();
    REQUIRE(again.size() == stored.size());
    std::map<Verdict, int> verdicts;
    const auto count = [&](std::optional<Verdict> one, std::optional<Verdict> other) {
        REQUIRE(one);
        CHECK(one == other);
        ++verdicts[*one];
    };
    for (std::size_t i = 0; i < stored.size(); ++i) {
        const ShotFact &fact = stored[i], &same = again[i];
        count(fact.verdict, same.verdict);
        REQUIRE(fact.on_post);
        REQUIRE(fact.advised_to_m.has_value() != *fact.on_post);
        if (fact.advised_to_m) CHECK(*fact.advised_to_m == doctest::Approx(*same.advised_to_m).epsilon(1e-9));
        CHECK(fact.firm);
        CHECK(fact.firm == same.firm);
        REQUIRE(fact.pass.has_value() == same.pass.has_value());
        if (!fact.pass) continue;
        count(fact.pass->verdict, same.pass->verdict);
        CHECK(fact.pass->least_spare_s);
        CHECK(fact.pass->came_open.has_value() == fact.pass->advised_to_m.has_value());
    }
    for (const auto& [verdict, shots] : verdicts)
        MESSAGE(label_of(verdict) << " " << shots);
    for (const Verdict verdict :
         {Verdict::right_depth, Verdict::over_challenged, Verdict::too_far_out, Verdict::sat_back,
          Verdict::off_angle, Verdict::beaten_across, Verdict::off_the_post})
        CHECK_MESSAGE(verdicts[verdict] >= 10, label_of(verdict));
    CHECK(verdicts[Verdict::right_depth] > static_cast<int>(stored.size()) / 3);
}

TEST_CASE("the newest game carries both films, a fit and shots whose positions are the truth's") {
    const SeasonFile file = made_season();
    const Game newest = file.games().back();
    const auto films = file.films(newest.id);
    REQUIRE(films.size() == 2);
    for (const Film& film : films) {
        CHECK(std::filesystem::path(film.path).is_relative()); // the folder can be moved
        const auto path = film_path(file, film);
        CHECK(film.fingerprint == film_fingerprint(path.string()));
        CHECK(film.bytes == static_cast<std::int64_t>(std::filesystem::file_size(path)));
        CHECK(film.frame_count == 180);
    }
    const demo::Play play = make_play(1, true);
    const auto shots = file.shots(newest.id);
    REQUIRE(!shots.empty());
    for (const Shot& shot : shots) {
        CHECK(shot.film_s == doctest::Approx(static_cast<double>(shot.frame) / film_rate_hz).epsilon(0.01));
        for (const Moment& moment : file.moments(shot.id)) {
            const Instant& instant = play.frames[static_cast<std::size_t>(moment.frame)];
            for (const Mark& mark : moment.marks) {
                REQUIRE(mark.at);
                REQUIRE(mark.ice);
                if (mark.kind == MarkKind::skate_left)
                    CHECK(distance(*mark.ice, instant.goalie.skates[0]) < 0.15);
                if (mark.kind == MarkKind::skate_right)
                    CHECK(distance(*mark.ice, instant.goalie.skates[1]) < 0.15);
                if (mark.kind == MarkKind::puck) CHECK(distance(*mark.ice, shadow_of(instant.puck)) < 0.15);
            }
        }
    }
    const Film& still = films[0].path.find("end_zone") != std::string::npos ? films[0] : films[1];
    const auto fits = file.rink_fits(still.id);
    REQUIRE(fits.size() == 1);
    CHECK(fits[0].landmarks.size() >= 8);
    CHECK(fits[0].fit.rms_px < 0.4);
    const Matrix3 truth = image_from_ice(end_zone_cameras(play).front());
    for (const IcePoint at : {IcePoint{0.0, 0.0}, IcePoint{0.0, 1.83}, IcePoint{-6.7, 6.1},
                              IcePoint{6.7, 6.1}, IcePoint{0.0, 12.0}}) {
        const double w = truth[6] * at.x_m + truth[7] * at.y_m + truth[8];
        const ImagePoint px{(truth[0] * at.x_m + truth[1] * at.y_m + truth[2]) / w,
                            (truth[3] * at.x_m + truth[4] * at.y_m + truth[5]) / w};
        const auto found = ice_at(fits[0].fit, px);
        REQUIRE(found);
        CHECK(distance(*found, at) < 0.06);
    }
}

TEST_CASE("a season that is not the demo's, or holds a coach's work, is left alone") {
    const auto folder = own_folder("taken");
    const auto quiet = [](const std::string&, int) {};
    const auto refused = [&](const std::filesystem::path& place) {
        try {
            write_demo(place, {.seed = 1, .brief = true}, quiet);
        } catch (const DemoError& error) {
            CHECK(std::string(error.what()).find('\n') == std::string::npos);
            return error.fault;
        }
        FAIL("was not refused");
        return DemoFault::not_writable;
    };
    Season own;
    own.name = "Ours";
    own.parameters = parameters_for(own.level);
    { const SeasonFile file = SeasonFile::create(folder / "demo.season", own); }
    CHECK(refused(folder) == DemoFault::not_ours);
    CHECK(SeasonFile::open_to_read(folder / "demo.season").season().name == "Ours");

    const auto second = own_folder("second");
    std::ofstream(second / "demo.season") << "notes, not a season";
    CHECK(refused(second) == DemoFault::not_ours);
    const auto third = own_folder("third");
    std::ofstream(third / "end_zone.mp4") << "a film of somebody";
    CHECK(refused(third) == DemoFault::not_ours);
    CHECK(refused(third / "end_zone.mp4") == DemoFault::not_a_folder);
    CHECK(refused(third / "end_zone.mp4" / "deeper") == DemoFault::not_writable);
    CHECK(std::distance(std::filesystem::directory_iterator(third), {}) == 1);

    const auto changed = own_folder("changed") / "demo.season";
    std::filesystem::copy_file(test::short_demo() / "demo.season", changed);
    CHECK(what_is_at(changed) == Found::demo);
    {
        SeasonFile file = SeasonFile::open(changed);
        Team team{{}, "A club of the coach's"};
        file.put(team);
    }
    CHECK(what_is_at(changed) == Found::demo_with_changes);
    CHECK(refused(changed.parent_path()) == DemoFault::changed);
}

TEST_CASE("nothing unfinished stays in the folder") {
    std::set<std::string> names;
    for (const auto& entry : std::filesystem::directory_iterator(test::short_demo()))
        names.insert(entry.path().filename().string());
    CHECK(names.contains("demo.season"));
    CHECK(names.contains("end_zone.truth.json"));
    CHECK_FALSE(names.contains("unfinished-demo"));
}
