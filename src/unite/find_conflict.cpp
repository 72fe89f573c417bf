#include "unite/find_conflict.h"

#include "season/change_log.h"
#include "season/clock_words.h"
#include "season/record_stamps.h"
#include "season/sql.h"

#include <algorithm>
#include <map>

namespace ropeline {
namespace {

using Fields = std::vector<std::pair<std::string, std::string>>;

std::string column_name(const std::string& expression) {
    const std::string name = expression.substr(expression.rfind('.') + 1);
    return name.substr(0, name.find(' '));
}

/// The id under which the file itself has the record.
Id own_id(SQLite::Database& db, const char* table, const StandsFor& stands_for, const Id& id) {
    if (ask(db, fmt::format("SELECT 1 FROM {} WHERE id = ?", table), {id}).executeStep()) return id;
    for (const auto& [younger, older] : stands_for.joined())
        if (stands_for.of(younger) == id &&
            ask(db, fmt::format("SELECT 1 FROM {} WHERE id = ?", table), {younger}).executeStep())
            return younger;
    return id;
}

std::string shown(const SQLite::Column& column, const StandsFor& stands_for, bool is_id) {
    if (column.isNull()) return "not said";
    const std::string text = one_line(column.getString());
    if (text.empty()) return "nothing";
    return is_id ? stands_for.of(text) : text;
}

Fields fields_of(SQLite::Database& db, const KindFact& fact, const StandsFor& stands_for, const Id& id) {
    Fields fields;
    const auto columns = columns_by_hand(db, fact.table);
    std::string list;
    for (const std::string& column : columns)
        list += fmt::format("{}{}", list.empty() ? "" : ", ", column);
    auto row = ask(db, fmt::format("SELECT {} FROM {} WHERE id = ?", list, fact.table), {id});
    if (!row.executeStep()) return fields;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const std::string name = column_name(columns[i]);
        if (name != "id")
            fields.emplace_back(name,
                                shown(row.getColumn(static_cast<int>(i)), stands_for, holds_an_id(name)));
    }
    return fields;
}

/// The parts of one kind as a text, each part in brackets; sorted, since their order says nothing.
std::string parts_of(SQLite::Database& db, const PartFact& part, const Id& id) {
    std::string list{part.also};
    for (const std::string& column : columns_by_hand(db, part.table)) {
        if (const std::string name = column_name(column); holds_an_id(name)) continue;
        list += fmt::format("{}{}", list.empty() ? "" : ", ", column);
    }
    auto row = ask(
        db, fmt::format("SELECT {} FROM {} WHERE {} = ?", list, part.from, record_of(part.table, part.table)),
        {id});
    std::vector<std::string> parts;
    while (row.executeStep()) {
        std::string& text = parts.emplace_back();
        for (int i = 0; i < row.getColumnCount(); ++i)
            if (!row.getColumn(i).isNull())
                text += (text.empty() ? "" : " ") + one_line(row.getColumn(i).getString());
    }
    std::ranges::sort(parts);
    std::string all;
    for (const std::string& text : parts)
        all += fmt::format("{}{}", all.empty() ? "" : ", ", text);
    return all.empty() ? "none" : all;
}

std::string where(SQLite::Database& db, const Id& shot_id) {
    auto row =
        ask(db,
            "SELECT coalesce(goalie.name, ''), coalesce(game.date, ''), shot.period, shot.clock_s FROM shot "
            "JOIN game ON game.id = shot.game_id LEFT JOIN goalie ON goalie.id = shot.goalie_id WHERE "
            "shot.id = ?",
            {shot_id});
    if (!row.executeStep()) return {};
    std::string words;
    for (const int column : {0, 1})
        if (const std::string text = row.getColumn(column).getString(); !text.empty())
            words += (words.empty() ? " of " : ", ") + one_line(text);
    if (!row.getColumn(2).isNull()) words += fmt::format(", period {}", row.getColumn(2).getInt());
    if (!row.getColumn(3).isNull()) words += ", " + clock_words(row.getColumn(3).getDouble());
    return words;
}

std::string words_for(SQLite::Database& db, const KindFact& fact, const Id& id) {
    if (fact.kind == RecordKind::shot) return fact.label + where(db, id);
    if (fact.kind == RecordKind::moment) {
        auto row = ask(db, "SELECT shot_id, kind, frame FROM moment WHERE id = ?", {id});
        if (row.executeStep())
            return fmt::format("{} in the shot{}", row.getColumn(1).getString(),
                               where(db, row.getColumn(0).getString()));
    }
    if (fact.kind == RecordKind::game) {
        auto row = ask(db, "SELECT date FROM game WHERE id = ? AND date IS NOT NULL", {id});
        if (row.executeStep()) return fmt::format("game of {}", one_line(row.getColumn(0).getString()));
    }
    if (fact.kind == RecordKind::team || fact.kind == RecordKind::goalie || fact.kind == RecordKind::season) {
        auto row = ask(db, fmt::format("SELECT name FROM {} WHERE id = ?", fact.table), {id});
        if (row.executeStep())
            return fmt::format("{} {}", fact.label, one_line(row.getColumn(0).getString()));
    }
    return fact.label;
}

std::string last_change(const FileRecords& file, const Id& id) {
    const RecordStamp* last = last_of(file.stamps_of(id));
    if (!last) return {};
    const std::string when = fmt::format("{} {} UTC", last->at.substr(0, 10), last->at.substr(11, 5));
    const char* then = file.find_there(id) ? "" : ", then removed";
    return (last->by.empty() ? when : fmt::format("{} by {}", when, one_line(last->by))) + then;
}

} // namespace

std::string what_it_is(const OpenedFile& file, const StandsFor& stands_for, const Id& id) {
    const KindFact& fact = fact_of(file.records.find(id)->kind);
    return words_for(file.db, fact, own_id(file.db, fact.table, stands_for, id));
}

MergeConflict conflict_of(const OpenedFile& mine, const OpenedFile& theirs, const StandsFor& stands_for,
                          const Id& id) {
    const KindFact& fact = fact_of(mine.records.find(id)->kind);
    const Id my_id = own_id(mine.db, fact.table, stands_for, id);
    const Id their_id = own_id(theirs.db, fact.table, stands_for, id);
    MergeConflict conflict{id,
                           words_for(mine.db, fact, my_id),
                           {},
                           last_change(mine.records, id),
                           last_change(theirs.records, id)};
    const Fields my_fields = fields_of(mine.db, fact, stands_for, my_id);
    const Fields their_fields = fields_of(theirs.db, fact, stands_for, their_id);
    for (std::size_t i = 0; i < std::min(my_fields.size(), their_fields.size()); ++i)
        if (my_fields[i] != their_fields[i])
            conflict.fields.push_back({my_fields[i].first, my_fields[i].second, their_fields[i].second});
    for (const PartFact& part : part_facts()) {
        const std::string my_parts = parts_of(mine.db, part, my_id);
        const std::string their_parts = parts_of(theirs.db, part, their_id);
        if (my_parts != their_parts) conflict.fields.push_back({part.label, my_parts, their_parts});
    }
    return conflict;
}

std::string line_of(const MergeConflict& conflict) {
    std::string line = fmt::format("{} {}:", conflict.id, conflict.what);
    for (const ConflictingField& field : conflict.fields)
        line += fmt::format(" {}: {} | {};", field.field, field.mine, field.theirs);
    const auto said = [](const std::string& when) {
        return when.empty() ? std::string{"no time known"} : when;
    };
    return line + fmt::format(" changed {} | {}", said(conflict.mine_changed), said(conflict.theirs_changed));
}

} // namespace ropeline
