#include "season/sample.h"

#include "season/derive.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <fmt/core.h>

#include <iostream>

namespace ropeline {
namespace {

using sample::Folder;

std::string log_size(const std::filesystem::path& season) {
    return sample::value(season, "SELECT count(*) FROM change");
}

} // namespace

TEST_CASE("undo takes back the last change and redo brings it back, also after a restart") {
    const Folder folder;
    const auto path = folder / "a.season";
    std::string before, after;
    Id shot_id, game_id;
    {
        SeasonFile file = SeasonFile::create(path, sample::season());
        CHECK_FALSE(file.undo_name());
        CHECK_FALSE(file.undo());
        const sample::Ids ids = sample::fill(file);
        game_id = ids.game;
        before = sample::dump(path);
        file.change("shot 1 logged", [&] {
            Shot shot = sample::shot(ids, 40);
            file.put(shot);
            Moment moment = sample::moment(shot.id, ids);
            file.put(moment);
            recompute(file);
            shot_id = shot.id;
        });
        after = sample::dump(path);
        REQUIRE(before != after);
    }
    {
        SeasonFile file = SeasonFile::open(path);
        CHECK(file.undo_name() == "shot 1 logged");
        CHECK_FALSE(file.redo_name());
        CHECK(file.undo());
        CHECK(sample::dump(path) == before);
        CHECK(file.undo_name() == "rink fit");
        CHECK(file.redo_name() == "shot 1 logged");
    }
    {
        SeasonFile file = SeasonFile::open(path);
        CHECK(file.redo());
        CHECK(sample::dump(path) == after);
        CHECK_FALSE(file.redo());
        CHECK(file.undo());
        CHECK(sample::dump(path) == before);
        CHECK(file.shots(game_id).empty());
    }
}

TEST_CASE("removing a shot takes its moments and marks along, and undo brings all of them back") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40);
    file.put(shot);
    Moment moment = sample::moment(shot.id, ids);
    moment.marks.push_back({{}, MarkKind::threat, std::nullopt, IcePoint{3.0, 5.0}, std::nullopt});
    moment.cues = {{CueKind::eyes, Likelihood::pass}};
    file.put(moment);
    recompute(file);
    const std::string full = sample::dump(path);
    file.remove_shot(shot.id);
    CHECK(sample::value(
              path, "SELECT (SELECT count(*) FROM moment) + (SELECT count(*) FROM threat) + (SELECT count(*) "
                    "FROM cue)") == "0");
    CHECK(file.undo_name() == "shot removed");
    CHECK(file.undo());
    CHECK(sample::dump(path) == full);
}

TEST_CASE("a new change ends what could be redone, one that alters nothing does not") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    Team team{{}, "Herons"};
    file.put(team);
    team.name = "Saltmarsh Herons";
    file.put(team);
    CHECK(file.undo());
    CHECK(file.teams()[0].name == "Herons");
    team.name = "Herons";
    file.put(team);
    CHECK(file.redo_name() == "team");
    team.name = "Herons of Saltmarsh";
    file.put(team);
    CHECK_FALSE(file.redo_name());
    CHECK(log_size(path) == "2");
}

TEST_CASE("a change that fails keeps nothing, a change inside a change is part of it") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    const std::string before = sample::dump(path);
    CHECK_THROWS_AS(file.change("half",
                                [&] {
                                    Shot shot = sample::shot(ids, 40);
                                    file.put(shot);
                                    throw std::runtime_error("the desk fell over");
                                }),
                    std::runtime_error);
    CHECK(sample::dump(path) == before);

    const auto refusal = sample::refusal_of([&] {
        file.change("swallowed", [&] {
            Shot shot = sample::shot(ids, 40);
            file.put(shot);
            shot.period = -1;
            CHECK_THROWS_AS(file.put(shot), SeasonError);
        });
    });
    CHECK(refusal.fault == SeasonFault::refused);
    CHECK(sample::dump(path) == before);

    file.change("outer", [&] {
        file.change("inner", [&] {
            Team team{{}, "Third"};
            file.put(team);
        });
    });
    CHECK(file.undo_name() == "outer");
    CHECK(file.undo());
    CHECK(sample::dump(path) == before);
}

TEST_CASE("the undo log keeps the last five hundred changes") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    Team team{{}, "0"};
    for (int i = 0; i < 510; ++i) {
        team.name = std::to_string(i);
        file.put(team);
    }
    CHECK(log_size(path) == "500");
    int undone = 0;
    while (file.undo())
        ++undone;
    CHECK(undone == 500);
    CHECK(file.teams()[0].name == "9");
}

TEST_CASE("new band edges re-band every shot, and undo takes both back") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40);
    file.put(shot);
    Moment moment = sample::moment(shot.id, ids, 0.8);
    file.put(moment);
    CHECK(file.shot_facts()[0].band == Band::conservative);
    CHECK(recompute(file) == 1);
    const std::string before = sample::dump(path);

    Season season = file.season();
    season.parameters.defensive_depth_m = 1.5;
    file.change("band edges", [&] {
        file.put(season);
        CHECK(recompute(file) == 1);
    });
    CHECK(file.shot_facts()[0].band == Band::defensive);
    CHECK(file.undo_name() == "band edges");
    CHECK(file.undo());
    CHECK(sample::dump(path) == before);
    CHECK(recompute(file) == 1);
    CHECK(sample::dump(path) == before);
}

TEST_CASE("a crafted undo log cannot reach outside the season's rows") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    Team team{{}, "Herons"};
    file.put(team);
    for (const std::string& statement : std::vector<std::string>{
             "PRAGMA user_version = 99", "DROP TABLE shot", "CREATE TABLE x (y)", "DELETE FROM sqlite_schema",
             "VACUUM INTO ''" + (folder / "copy").string() + "''",
             "ATTACH ''" + (folder / "other").string() + "'' AS other", "DELETE FROM change",
             "UPDATE change_step SET statement = 1", "INSERT INTO change_now (id) VALUES (77)"}) {
        CAPTURE(statement);
        sample::run(path, "UPDATE change_step SET statement = '" + statement + "'");
        const std::string before = sample::dump(path);
        CHECK_THROWS_AS(file.undo(), SeasonError);
        CHECK(sample::dump(path) == before);
        CHECK(sample::value(path, "PRAGMA user_version") == "1");
        CHECK_FALSE(std::filesystem::exists(folder / "copy"));
        CHECK_FALSE(std::filesystem::exists(folder / "other"));
    }
    team.name = "still usable";
    file.put(team);
    CHECK(file.undo());
}

TEST_CASE("random changes: undoing all gives the first season, redoing all the last") {
    // Property over random names, numbers and orders of work; rapidcheck prints its own seed when it fails.
    // One season for all of it: each round begins where all is undone, since to make a season takes longer than a round.
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    SQLite::Database reader{(folder / "a.season").string(), SQLite::OPEN_READONLY};
    const auto round = [&] {
        while (file.undo()) // of a round that was cut off by a failure
            continue;
        const sample::Ids ids = sample::fill(file);
        std::vector<Id> shots;
        const auto text = [] {
            std::string any = *rc::gen::arbitrary<std::string>();
            std::erase(any, '\0');
            return any;
        };
        const auto real = [] { return static_cast<double>(*rc::gen::inRange(-100000, 100000)) / 777.0; };
        const int count = *rc::gen::inRange(1, 25);
        for (int i = 0; i < count; ++i) {
            switch (*rc::gen::inRange(0, 7)) {
            case 0: {
                Team team{{}, text()};
                file.put(team);
                break;
            }
            case 1: {
                Goalie goalie = file.goalies()[0];
                goalie.name = text();
                file.put(goalie);
                break;
            }
            case 2: {
                if (shots.empty()) break;
                file.remove_shot(shots.back());
                shots.pop_back();
                break;
            }
            case 3: {
                StoredFit fit =
                    file.rink_fits(ids.film).empty() ? sample::fit(ids.film) : file.rink_fits(ids.film)[0];
                fit.landmarks[0].at.x_px = real();
                fit.fit.covariance[7] = real() / 3.0;
                if (*rc::gen::arbitrary<bool>())
                    fit.landmarks.push_back({text(), {real(), real()}, IcePoint{real(), real()}});
                file.put(fit);
                break;
            }
            case 4: {
                if (shots.empty()) break;
                auto moments = file.moments(shots.back());
                if (moments.empty()) break;
                moments[0].marks.erase(moments[0].marks.begin());
                moments[0].depth_sigma_m = std::abs(real());
                if (moments[0].marks.empty())
                    file.remove_moment(moments[0].id);
                else
                    file.put(moments[0]);
                break;
            }
            case 5: {
                if (file.rink_fits(ids.film).empty()) break;
                file.remove_rink_fit(file.rink_fits(ids.film)[0].id);
                break;
            }
            default: {
                file.change("shot and moment", [&] {
                    Shot shot = sample::shot(ids, *rc::gen::inRange(0, 1800));
                    shot.note = text();
                    file.put(shot);
                    shots.push_back(shot.id);
                    Moment moment = sample::moment(shot.id, ids, real() / 100.0);
                    if (const auto fits = file.rink_fits(ids.film); !fits.empty())
                        moment.rink_fit_id = fits[0].id;
                    file.put(moment);
                });
            }
            }
        }
        recompute(file); // figures are in no step: they come back as they follow from the marks
        const std::string last = sample::dump(reader);
        while (file.undo())
            continue;
        RC_ASSERT(file.teams().empty());
        const std::string first = sample::dump(reader);
        while (file.redo())
            continue;
        RC_ASSERT(sample::dump(reader) == last);
        while (file.undo())
            continue;
        RC_ASSERT(sample::dump(reader) == first);
        RC_ASSERT(reader.execAndGet("PRAGMA integrity_check").getString() == "ok");
        RC_ASSERT(reader.execAndGet("SELECT count(*) FROM pragma_foreign_key_check").getInt() == 0);
    };
    rc::detail::TestParams rounds = rc::detail::configuration().testParams;
    rounds.maxSuccess = 100 / sample::fewer;
    const auto result = rc::detail::checkTestable(round, rc::detail::TestMetadata{}, rounds);
    const bool holds = result.is<rc::detail::SuccessResult>();
    if (!holds) rc::detail::printResultMessage(result, std::cerr);
    CHECK(holds);
}

} // namespace ropeline
