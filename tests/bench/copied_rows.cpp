#include "bench/copied_rows.h"

#include <sqlite3.h>

#include <algorithm>
#include <cstdio>

namespace ropeline {
namespace {

std::vector<std::string> columns_of(SQLite::Database& db, const char* table) {
    std::vector<std::string> columns;
    SQLite::Statement info{db, std::string{"SELECT name FROM pragma_table_info('"} + table + "')"};
    while (info.executeStep())
        columns.push_back(info.getColumn(0).getString());
    return columns;
}

CopiedValue value_of(const SQLite::Column& column) {
    if (column.isInteger()) return column.getInt64();
    if (column.isFloat()) return column.getDouble();
    if (column.isText()) return column.getString();
    return {};
}

CopiedTable read(SQLite::Database& db, const char* table, const std::string& where) {
    CopiedTable copied{columns_of(db, table), {}};
    SQLite::Statement row{db, std::string{"SELECT * FROM "} + table + " WHERE " + where};
    while (row.executeStep()) {
        auto& values = copied.rows.emplace_back();
        for (int i = 0; i < row.getColumnCount(); ++i)
            values.push_back(value_of(row.getColumn(i)));
    }
    return copied;
}

} // namespace

Id MadeIds::next() {
    constexpr std::uint64_t begins_ms = 0x019a00000000ULL;
    const std::uint64_t ms = begins_ms + ++count_;
    std::array<char, 37> text{};
    std::snprintf(text.data(), text.size(), "%08x-%04x-7%03x-8%03x-%012llx", static_cast<unsigned>(ms >> 16),
                  static_cast<unsigned>(ms & 0xffff), static_cast<unsigned>(seed_ & 0xfff),
                  static_cast<unsigned>((seed_ >> 12) & 0xfff),
                  static_cast<unsigned long long>(seed_ & 0xffffffffffffULL));
    return {text.data(), 36};
}

CopiedRow::CopiedRow(SQLite::Database& db, const char* table, const std::vector<std::string>& columns)
    : insert_{db, [&] {
                  std::string names, places;
                  for (const std::string& column : columns) {
                      names += (names.empty() ? "" : ", ") + column;
                      places += places.empty() ? "?" : ", ?";
                  }
                  return std::string{"INSERT INTO "} + table + " (" + names + ") VALUES (" + places + ")";
              }()} {}

void CopiedRow::put(const std::vector<CopiedValue>& values) {
    insert_.reset();
    for (std::size_t i = 0; i < values.size(); ++i) {
        const int place = static_cast<int>(i) + 1;
        if (const auto* whole = std::get_if<std::int64_t>(&values[i]))
            insert_.bind(place, *whole);
        else if (const auto* real = std::get_if<double>(&values[i]))
            insert_.bind(place, *real);
        else if (const auto* text = std::get_if<std::string>(&values[i]))
            insert_.bindNoCopy(place, *text);
        else
            insert_.bind(place);
    }
    insert_.exec();
}

std::size_t CopiedTable::at(const char* column) const {
    return static_cast<std::size_t>(std::ranges::find(columns, column) - columns.begin());
}

std::vector<PlayRows> rows_of_plays(SQLite::Database& db) {
    std::vector<PlayRows> plays;
    const CopiedTable shots = read(db, "shot", "1 ORDER BY id");
    for (const auto& row : shots.rows) {
        PlayRows& play = plays.emplace_back();
        play.id = std::get<std::string>(row[shots.at("id")]);
        play.outcome = std::get<std::string>(row[shots.at("outcome")]);
        play.shot = {shots.columns, {row}};
        const std::string of_shot = "shot_id = '" + play.id + "'";
        play.moment = read(db, "moment", of_shot + " ORDER BY id");
        const std::string of_moments = "moment_id IN (SELECT id FROM moment WHERE " + of_shot + ")";
        play.mark = read(db, "mark", of_moments + " ORDER BY id");
        play.threat =
            read(db, "threat", "mark_id IN (SELECT id FROM mark WHERE " + of_moments + ") ORDER BY 1");
    }
    return plays;
}

PlayWriter::PlayWriter(SQLite::Database& db, MadeIds& ids)
    : ids_(ids), shot_{db, "shot", columns_of(db, "shot")}, moment_{db, "moment", columns_of(db, "moment")},
      mark_{db, "mark", columns_of(db, "mark")}, threat_{db, "threat", columns_of(db, "threat")} {}

void PlayWriter::put(const PlayRows& play, const DealtShot& dealt) {
    anew_.clear();
    std::vector<CopiedValue> row = play.shot.rows.front();
    const auto set = [&](const char* column, CopiedValue value) {
        row[play.shot.at(column)] = std::move(value);
    };
    set("id", anew_[play.id] = ids_.next());
    set("game_id", dealt.game_id);
    set("goalie_id", dealt.goalie_id);
    set("period", dealt.period);
    set("clock_s", dealt.clock_s);
    set("outcome", dealt.outcome);
    set("tagged_by", dealt.tagged_by);
    shot_.put(row);
    put_under(play.moment, moment_, "id", "shot_id");
    put_under(play.mark, mark_, "id", "moment_id");
    put_under(play.threat, threat_, "", "mark_id");
}

void PlayWriter::put_under(const CopiedTable& table, CopiedRow& insert, const char* key, const char* owner) {
    for (std::vector<CopiedValue> row : table.rows) {
        if (*key != '\0') {
            auto& id = std::get<std::string>(row[table.at(key)]);
            id = anew_[id] = ids_.next();
        }
        auto& owner_id = std::get<std::string>(row[table.at(owner)]);
        owner_id = anew_.at(owner_id);
        insert.put(row);
    }
}

void remove_plays(SQLite::Database& db, const std::map<Id, double>& plays) {
    std::string list;
    for (const auto& [id, danger] : plays)
        list += (list.empty() ? "'" : ", '") + id + "'";
    const std::string of_shots = "shot_id IN (" + list + ")";
    const std::string of_moments = "moment_id IN (SELECT id FROM moment WHERE " + of_shots + ")";
    db.exec("DELETE FROM threat WHERE mark_id IN (SELECT id FROM mark WHERE " + of_moments +
            ");"
            "DELETE FROM mark WHERE " +
            of_moments + "; DELETE FROM moment WHERE " + of_shots + "; DELETE FROM shot WHERE id IN (" +
            list + "); DELETE FROM game WHERE home_team_id IS NULL");
}

} // namespace ropeline
