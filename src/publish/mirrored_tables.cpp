#include "publish/mirrored_tables.h"

#include <SQLiteCpp/Statement.h>
#include <fmt/core.h>

namespace ropeline {
namespace {

std::vector<MirroredTable> all_tables() {
    const std::string of_game = "LEFT JOIN team AS home ON home.id = game.home_team_id "
                                "LEFT JOIN team AS away ON away.id = game.away_team_id";
    const std::string of_film = "LEFT JOIN game ON game.id = film.game_id " + of_game;
    const std::string by_film = "LEFT JOIN film ON film.id = film_id " + of_film;
    const std::string of_goalie = "LEFT JOIN team AS own ON own.id = goalie.team_id";
    const std::string of_shot = "LEFT JOIN goalie ON goalie.id = shot.goalie_id " + of_goalie;
    const std::string by_shot = "LEFT JOIN shot ON shot.id = shot_id " + of_shot;
    const auto by_moment = [&](const std::string& moment_id) {
        return "LEFT JOIN moment AS its ON its.id = " + moment_id +
               " LEFT JOIN shot ON shot.id = its.shot_id " + of_shot;
    };
    const std::string of_mark = by_moment("mark.moment_id") +
                                " LEFT JOIN rink_fit ON rink_fit.id = mark.rink_fit_id "
                                "LEFT JOIN film ON film.id = rink_fit.film_id " +
                                of_film;
    const std::string of_threat = "LEFT JOIN mark ON mark.id = threat.mark_id " + by_moment("mark.moment_id");
    return {{"season", "", "NULL", "NULL", true},
            {"parameter", "", "NULL", "NULL", true},
            {"team", "", "NULL", "NULL", true},
            {"goalie", of_goalie, "own.name"},
            {"game", of_game, "home.name", "away.name"},
            {"film", of_film, "home.name", "away.name"},
            {"rink_fit", by_film, "home.name", "away.name"},
            {"clock_mark", by_film, "home.name", "away.name"},
            {"shot", of_shot, "own.name"},
            {"tag", by_shot, "own.name"},
            {"moment", by_shot, "own.name"},
            {"mark", of_mark, "coalesce(own.name, home.name)", "away.name"},
            {"threat", of_threat, "own.name"},
            {"cue", by_moment("moment_id"), "own.name"},
            {"answer", by_moment("moment_id"), "own.name"}};
}

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
    static const std::vector<MirroredTable> tables = all_tables();
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
    for (const MirroredTable& table : mirrored_tables()) {
        std::string keys, key_columns, columns;
        for (const MirroredColumn& column : columns_of(season, table)) {
            if (column.is_key) {
                keys += fmt::format(", {}", column.name);
                key_columns += fmt::format(", {} {} NOT NULL", column.name, column.type);
            }
            columns += fmt::format("ALTER TABLE ropeline.{} ADD COLUMN IF NOT EXISTS {} {};\n", table.name,
                                   column.name, column.type);
        }
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
    return fmt::format("SELECT {}, {}{} FROM {} {}", table.team, table.other_team, columns, table.name,
                       table.joins);
}

} // namespace ropeline
