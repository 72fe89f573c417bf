// Seasons of an older schema and of an older model: brought up to date, with nothing of a coach's work lost.
#include "season/sample.h"

#include "season/connection.h"
#include "season/derive.h"
#include "season/schema_text.h"

#include <doctest/doctest.h>

#include <array>

namespace ropeline {
namespace {

using sample::Folder;

/// A next version as it may come: a table made anew, which others lead to, and the view on it.
constexpr std::string_view next_version = R"sql(
DROP VIEW shot_facts;
CREATE TABLE team_2 (id TEXT PRIMARY KEY NOT NULL, name TEXT NOT NULL, colours TEXT NOT NULL DEFAULT '') STRICT;
INSERT INTO team_2 (id, name) SELECT id, name FROM team;
DROP TABLE team;
ALTER TABLE team_2 RENAME TO team;
CREATE VIEW shot_facts AS SELECT shot.id AS shot_id, team.name AS team
  FROM shot JOIN goalie ON goalie.id = shot.goalie_id JOIN team ON team.id = goalie.team_id;
PRAGMA user_version = 2;
)sql";
constexpr std::string_view broken_version = R"sql(
ALTER TABLE team ADD COLUMN colours TEXT;
INSERT INTO no_such_table VALUES (1);
PRAGMA user_version = 2;
)sql";

void make(const std::filesystem::path& path) {
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40);
    file.put(shot);
    Moment moment = sample::moment(shot.id, ids);
    file.put(moment);
}

SQLite::Database writing(const std::filesystem::path& path) {
    return {path.string(), SQLite::OPEN_READWRITE};
}

} // namespace

TEST_CASE("a season made new is of version 1, the only one there is") {
    const Folder folder;
    make(folder / "a.season");
    CHECK(schema_versions().size() == 1);
    CHECK(sample::value(folder / "a.season", "PRAGMA user_version") == "1");
}

TEST_CASE("a season of an older version is brought up to date, every row kept and a copy put beside it") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    const std::string before = sample::dump(path);
    const std::array versions{schema_versions().front(), next_version};
    {
        SQLite::Database db = writing(path);
        bring_up_to_date(db, path, versions);
        CHECK(schema_version(db) == 2);
        CHECK(schema_is_ours(db, versions));
        CHECK_FALSE(schema_is_ours(db, schema_versions()));
        CHECK(db.execAndGet("SELECT count(*) FROM pragma_foreign_key_check").getInt() == 0);
        CHECK(db.execAndGet("SELECT count(*) FROM goalie JOIN team ON team.id = team_id").getInt() == 1);
        bring_up_to_date(db, path, versions); // and is left alone once it is
    }
    CHECK(sample::value(path, "SELECT count(*) FROM mark") ==
          sample::value(folder / "a.season.version-1", "SELECT count(*) FROM mark"));
    CHECK(sample::dump(folder / "a.season.version-1") == before);
    CHECK_FALSE(std::filesystem::exists(folder / "a.season.version-2"));
    CHECK(sample::refusal_of([&] { SeasonFile::open(path); }).fault == SeasonFault::newer);
}

TEST_CASE("a version that cannot be applied leaves the season as it was") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    const std::string before = sample::dump(path);
    {
        SQLite::Database db = writing(path);
        CHECK_THROWS(bring_up_to_date(db, path, std::array{schema_versions().front(), broken_version}));
    }
    CHECK(sample::dump(path) == before);
    CHECK(SeasonFile::open(path).season().name == "Winter");
}

TEST_CASE("figures of an older model are told from today's, and worked out again as one change") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    {
        SeasonFile file = SeasonFile::open(path);
        CHECK_FALSE(figures_are_old(file));
        recompute(file);
    }
    const std::string today = sample::dump(path);
    sample::run(
        path,
        "UPDATE moment SET model_version = 1, depth_m = depth_m + 1, verdict = 'sat_back', firm = NULL, "
        "turns_on = NULL, becomes = NULL");
    SeasonFile file = SeasonFile::open(path);
    REQUIRE(figures_are_old(file));
    CHECK(recompute(file) == 1);
    CHECK_FALSE(figures_are_old(file));
    CHECK(sample::dump(path) == today);
}

} // namespace ropeline
