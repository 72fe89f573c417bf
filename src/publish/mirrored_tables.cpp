#include "publish/mirrored_tables.h"

#include <SQLiteCpp/Statement.h>
#include <fmt/core.h>

#include <array>

namespace ropeline {
namespace {

constexpr const char* of_game = "LEFT JOIN team AS home ON home.id = game.home_team_id "
                                "LEFT JOIN team AS away ON away.id = game.away_team_id";
constexpr const char* of_film = "LEFT JOIN game ON game.id = film.game_id "
                                "LEFT JOIN team AS home ON home.id = game.home_team_id "
                                "LEFT JOIN team AS away ON away.id = game.away_team_id";
constexpr const char* by_film =
    "LEFT JOIN film ON film.id = film_id LEFT JOIN game ON game.id = film.game_id "
    "LEFT JOIN team AS home ON home.id = game.home_team_id "
    "LEFT JOIN team AS away ON away.id = game.away_team_id";
constexpr const char* of_shot =
    "LEFT JOIN goalie ON goalie.id = shot.goalie_id LEFT JOIN team AS own ON own.id = goalie.team_id";
constexpr const char* by_shot =
    "LEFT JOIN shot ON shot.id = shot_id LEFT JOIN goalie ON goalie.id = shot.goalie_id "
    "LEFT JOIN team AS own ON own.id = goalie.team_id";
constexpr const char* by_moment =
    "LEFT JOIN moment AS its ON its.id = moment_id LEFT JOIN shot ON shot.id = its.shot_id "
    "LEFT JOIN goalie ON goalie.id = shot.goalie_id LEFT JOIN team AS own ON own.id = goalie.team_id";
constexpr const char* of_mark =
    "LEFT JOIN moment AS its ON its.id = mark.moment_id LEFT JOIN shot ON shot.id = its.shot_id "
    "LEFT JOIN goalie ON goalie.id = shot.goalie_id LEFT JOIN team AS own ON own.id = goalie.team_id "
    "LEFT JOIN rink_fit ON rink_fit.id = mark.rink_fit_id LEFT JOIN film ON film.id = rink_fit.film_id "
    "LEFT JOIN game ON game.id = film.game_id LEFT JOIN team AS home ON home.id = game.home_team_id "
    "LEFT JOIN team AS away ON away.id = game.away_team_id";
constexpr const char* of_threat =
    "LEFT JOIN mark ON mark.id = threat.mark_id LEFT JOIN moment AS its ON its.id = mark.moment_id "
    "LEFT JOIN shot ON shot.id = its.shot_id LEFT JOIN goalie ON goalie.id = shot.goalie_id "
    "LEFT JOIN team AS own ON own.id = goalie.team_id";

constexpr std::array tables = {
    MirroredTable{"season", "", {"NULL", "NULL"}, true},
    MirroredTable{"parameter", "", {"NULL", "NULL"}, true},
    MirroredTable{"team", "", {"NULL", "NULL"}, true},
    MirroredTable{"goalie", "LEFT JOIN team AS own ON own.id = goalie.team_id", {"own.name", "NULL"}},
    MirroredTable{"game", of_game, {"home.name", "away.name"}},
    MirroredTable{"film", of_film, {"home.name", "away.name"}},
    MirroredTable{"rink_fit", by_film, {"home.name", "away.name"}},
    MirroredTable{"clock_mark", by_film, {"home.name", "away.name"}},
    MirroredTable{"shot", of_shot, {"own.name", "NULL"}},
    MirroredTable{"tag", by_shot, {"own.name", "NULL"}},
    MirroredTable{"moment", by_shot, {"own.name", "NULL"}},
    MirroredTable{"mark", of_mark, {"coalesce(own.name, home.name)", "away.name"}},
    MirroredTable{"threat", of_threat, {"own.name", "NULL"}},
    MirroredTable{"cue", by_moment, {"own.name", "NULL"}},
    MirroredTable{"answer", by_moment, {"own.name", "NULL"}}};

std::string type_of(const std::string& sqlite_type) {
    if (sqlite_type == "INTEGER") return "bigint";
    if (sqlite_type == "REAL") return "double precision";
    return "text COLLATE \"C\""; // texts sort by their bytes, as SQLite has them
}

std::string policy(const MirroredTable& table) {
    const char* may_read =
        table.for_all
            ? "EXISTS (SELECT 1 FROM ropeline.team_reader WHERE ropeline.is_reader(reader))"
            : "of_teams && ARRAY(SELECT team FROM ropeline.team_reader WHERE ropeline.is_reader(reader))";
    return fmt::format("ALTER TABLE ropeline.{0} ENABLE ROW LEVEL SECURITY;\n"
                       "DROP POLICY IF EXISTS by_team ON ropeline.{0};\n"
                       "CREATE POLICY by_team ON ropeline.{0} FOR SELECT USING ({1});\n",
                       table.name, may_read);
}

} // namespace

std::span<const MirroredTable> mirrored_tables() {
    return tables;
}

std::vector<MirroredColumn> columns_of(SQLite::Database& season, const MirroredTable& table) {
    std::vector<MirroredColumn> columns;
    SQLite::Statement info{season, "SELECT name, type, pk FROM pragma_table_info(?)"};
    info.bind(1, table.name);
    while (info.executeStep())
        columns.push_back({info.getColumn(0).getString(), type_of(info.getColumn(1).getString()),
                           info.getColumn(2).getInt() > 0});
    return columns;
}

std::string table_statements(SQLite::Database& season) {
    std::string all;
    for (const MirroredTable& table : tables) {
        std::string keys, columns;
        for (const MirroredColumn& column : columns_of(season, table)) {
            if (column.is_key) keys += fmt::format(", {}", column.name);
            columns += fmt::format("ALTER TABLE ropeline.{} ADD COLUMN IF NOT EXISTS {} {};\n", table.name,
                                   column.name, column.type);
        }
        std::string key_columns;
        for (const MirroredColumn& column : columns_of(season, table))
            if (column.is_key) key_columns += fmt::format(", {} {} NOT NULL", column.name, column.type);
        all += fmt::format(
            "CREATE TABLE IF NOT EXISTS ropeline.{} (season_id text COLLATE \"C\" NOT NULL, of_teams text[] "
            "NOT NULL{}, PRIMARY KEY (season_id{}));\n",
            table.name, key_columns, keys);
        all += columns + policy(table);
    }
    return all;
}

std::string rows_query(SQLite::Database& season, const MirroredTable& table) {
    std::string columns;
    for (const MirroredColumn& column : columns_of(season, table))
        columns += fmt::format(", {}.{}", table.name, column.name);
    return fmt::format("SELECT {}, {}{} FROM {} {}", table.teams[0], table.teams[1], columns, table.name,
                       table.joins);
}

} // namespace ropeline
