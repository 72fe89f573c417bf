#include "season/counted_rows.h"

#include <fmt/format.h>

#include <array>
#include <string_view>

namespace ropeline {
namespace {

/// The words in counts_as, in order; season_counts.cpp reads them.
constexpr std::array<std::string_view, 12> words = {
    "outcome",
    "came",
    "released",
    "read",
    "situation",
    "((puck_x_m * puck_x_m + puck_y_m * puck_y_m >= 36.0)"
    " + (puck_x_m * puck_x_m + puck_y_m * puck_y_m >= 144.0))",
    "band",
    "verdict",
    "overruled",
    "pass_band",
    "pass_verdict",
    "pass_overruled"};

constexpr std::string_view noted = "shot_id IN (SELECT shot_id FROM shot_to_count)";

/// SQL that yields it from a row of shot_facts.
std::string counts_as() {
    std::string text;
    for (const std::string_view word : words)
        text += fmt::format("{}coalesce({}, '-')", text.empty() ? "" : " || ' ' || ", word);
    return text;
}

std::string worked_out(std::string_view which) {
    return fmt::format("SELECT shot_id, game_id, goalie_id, {} AS counts_as FROM shot_facts WHERE {}",
                       counts_as(), which);
}

} // namespace

bool has_shots_to_count(SQLite::Database& db) {
    return db.execAndGet("SELECT EXISTS (SELECT 1 FROM shot_to_count)").getInt() != 0;
}

std::string counted_rows(SQLite::Database& db) {
    if (!has_shots_to_count(db)) return "SELECT game_id, goalie_id, counts_as FROM counted_shot";
    return fmt::format("SELECT game_id, goalie_id, counts_as FROM counted_shot WHERE NOT {} "
                       "UNION ALL SELECT game_id, goalie_id, counts_as FROM ({})",
                       noted, worked_out(noted));
}

void count_what_changed(SQLite::Database& db) {
    if (!has_shots_to_count(db)) return;
    db.exec(fmt::format("DELETE FROM counted_shot WHERE {}; INSERT INTO counted_shot {}; "
                        "DELETE FROM shot_to_count",
                        noted, worked_out(noted)));
}

void count_all_shots(SQLite::Database& db) {
    db.exec(fmt::format("DELETE FROM counted_shot; INSERT INTO counted_shot {}; DELETE FROM shot_to_count",
                        worked_out("1")));
}

std::int64_t shots_counted_wrongly(SQLite::Database& db) {
    return db
        .execAndGet(fmt::format(
            "WITH kept AS (SELECT shot_id, game_id, goalie_id, counts_as FROM counted_shot WHERE NOT {0}), "
            "told AS ({1}) SELECT count(DISTINCT shot_id) FROM (SELECT * FROM (SELECT * FROM kept EXCEPT "
            "SELECT * FROM told) UNION ALL SELECT * FROM (SELECT * FROM told EXCEPT SELECT * FROM kept))",
            noted, worked_out(fmt::format("NOT {}", noted))))
        .getInt64();
}

} // namespace ropeline
