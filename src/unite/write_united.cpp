#include "unite/write_united.h"

#include "season/counted_rows.h"
#include "season/raw_statement.h"
#include "season/record_stamps.h"
#include "season/season_file.h"
#include "season/sql.h"
#include "season/take_indexes.h"
#include "unite/film_places.h"
#include "unite/removed_rows.h"

#include <array>
#include <functional>
#include <vector>

namespace ropeline {
namespace {

// What is needed comes first.
constexpr std::array<std::string_view, 19> tables = {
    "season",     "parameter",  "season_asks", "team",  "goalie",     "game", "film",
    "film_index", "film_marks", "rink_fit",    "carry", "clock_mark", "shot", "tag",
    "moment",     "mark",       "threat",      "cue",   "answer"};

/// Whose rows of a record are written: of a moment that both have alike, those that hold its shot's figures.
class Source {
public:
    Source(const FileRecords& mine, const FileRecords& theirs, const Chosen& chosen)
        : mine_(mine), theirs_(theirs), chosen_(chosen) {}

    std::optional<Whose> of(const Id& id) const {
        const auto kept = chosen_.kept.find(id);
        if (kept == chosen_.kept.end()) return std::nullopt;
        const FileRecord& record = *of_file(kept->second).find(id);
        if (record.kind != RecordKind::moment) return kept->second;
        const auto settled = chosen_.figures.find(record.needs.front());
        if (settled == chosen_.figures.end()) return kept->second;
        // What one file removed has no figures there any more.
        const auto alike_in = [&](Whose whose) {
            const FileRecord* there = of_file(whose).find_there(id);
            return there && there->content == record.content;
        };
        const Whose first = settled->second.value_or(kept->second);
        if (alike_in(first)) return first;
        const Whose second = first == Whose::mine ? Whose::theirs : Whose::mine;
        return alike_in(second) ? second : kept->second;
    }

private:
    const FileRecords& of_file(Whose whose) const { return whose == Whose::mine ? mine_ : theirs_; }

    const FileRecords& mine_;
    const FileRecords& theirs_;
    const Chosen& chosen_;
};

class TableWriter {
public:
    TableWriter(SQLite::Database& into, SQLite::Database& from, std::string_view table,
                const StandsFor& stands_for, const Chosen& chosen)
        : stands_for_(stands_for), chosen_(chosen), rows_{from, fmt::format("SELECT {0}, {1}.* FROM {1}",
                                                                            record_of(table, table), table)},
          insert_{into, statement_of(rows_, table)} {
        for (int i = 0; i < rows_.columns(); ++i)
            columns_.push_back({holds_of(rows_.name(i), table), {}, {}});
    }

    void write(const std::function<bool(const Id& record)>& is_wanted, const FilmPlaces& places) {
        Id record;
        bool wanted = false;
        while (rows_.step()) {
            if (rows_.text(0) != record) { // parts of a record mostly follow each other
                record = rows_.text(0);
                wanted = is_wanted(stands_for_.of(record));
            }
            if (!wanted) continue;
            for (int i = 1; i < rows_.columns(); ++i)
                bind(i, record, places);
            insert_.run();
        }
    }

private:
    enum class Holds { value, id, id_that_may_go, film_path };
    struct Column {
        Holds holds{};
        Id own, standing; ///< the id in the row before, and what is written for it
    };

    static std::string statement_of(const RawStatement& rows, std::string_view table) {
        std::string columns, values;
        for (int i = 1; i < rows.columns(); ++i) {
            columns += fmt::format("{}{}", i == 1 ? "" : ", ", rows.name(i));
            values += i == 1 ? "?" : ", ?";
        }
        return fmt::format("INSERT INTO {} ({}) VALUES ({})", table, columns, values);
    }

    static Holds holds_of(std::string_view column, std::string_view table) {
        if (column == "path" && table == "film") return Holds::film_path;
        if (!holds_an_id(column)) return Holds::value;
        // These go empty when what they lead to is gone.
        const bool may_go = column == "rebound_shot_id" || (column == "rink_fit_id" && table == "moment");
        return may_go ? Holds::id_that_may_go : Holds::id;
    }

    void bind(int at, const Id& record, const FilmPlaces& places) {
        Column& column = columns_[static_cast<std::size_t>(at)];
        if (column.holds == Holds::film_path)
            return insert_.bind_text(at, places.path_of(stands_for_.of(record), std::string{rows_.text(at)}));
        if (column.holds == Holds::value || !rows_.is_text(at)) return insert_.bind_from(at, rows_, at);
        if (const std::string_view own = rows_.text(at); own != column.own) {
            column.own = own;
            column.standing = stands_for_.of(column.own);
            if (column.holds == Holds::id_that_may_go && !chosen_.kept.contains(column.standing))
                column.standing.clear();
        }
        column.standing.empty() ? insert_.bind_null(at) : insert_.bind_text(at, column.standing);
    }

    const StandsFor& stands_for_;
    const Chosen& chosen_;
    RawStatement rows_, insert_;
    std::vector<Column> columns_;
};

/// Of a shot that only one file knows, with all that is of it, what it counts as stands there already.
void write_counted(SQLite::Database& into, const UnitedInput& from, const UnitedInput& other,
                   const StandsFor& stands_for, const Chosen& chosen) {
    RawStatement rows{from.db, "SELECT shot_id, game_id, goalie_id, counts_as FROM counted_shot "
                               "WHERE shot_id NOT IN (SELECT shot_id FROM shot_to_count)"};
    RawStatement insert{into, "INSERT INTO counted_shot (shot_id, game_id, goalie_id, counts_as) "
                              "VALUES (?, ?, ?, ?)"};
    while (rows.step()) {
        const Id id{rows.text(0)};
        if (other.records.find(id) || !from.records.find_there(id) || !chosen.kept.contains(id)) continue;
        insert.bind_text(1, id);
        insert.bind_text(2, stands_for.of(Id{rows.text(1)}));
        rows.is_text(2) ? insert.bind_text(3, stands_for.of(Id{rows.text(2)})) : insert.bind_null(3);
        insert.bind_from(4, rows, 3);
        insert.run();
    }
}

void count_the_rest(SQLite::Database& into) {
    into.exec("INSERT INTO shot_to_count SELECT id FROM shot WHERE id NOT IN (SELECT shot_id FROM "
              "counted_shot)");
    count_what_changed(into);
}

/// A decision is a change after both, the same whoever's file was named first.
RecordStamp stamp_of_decision(SQLite::Database& db, const std::vector<RecordStamp>& stamps, const Id& id,
                              std::uint64_t content, const RecordStamp* of_chosen) {
    std::string known = fmt::format("{} {}", id, content);
    for (const RecordStamp& stamp : stamps)
        known += fmt::format(" {} {}", stamp.sitting, stamp.at);
    const RecordStamp* last = last_of(stamps);
    auto later = ask(db, "SELECT strftime('%Y-%m-%dT%H:%M:%fZ', ?, '+0.001 seconds')",
                     {last ? last->at : std::string{"1970-01-01T00:00:00.000Z"}});
    later.executeStep();
    const auto sitting = static_cast<std::int64_t>(std::hash<std::string>{}(known));
    return {sitting, later.getColumn(0).getString(), of_chosen ? of_chosen->by : std::string{}, {}, {}};
}

void write_stamps(SQLite::Database& into, const UnitedInput& mine, const UnitedInput& theirs,
                  const std::map<Id, Whose>& decided) {
    RawStatement insert{into,
                        "INSERT INTO record_change (record_id, sitting, changed_at, changed_by, removed_at, "
                        "along_at) VALUES (?, ?, ?, ?, ?, ?)"};
    const auto put = [&](const Id& id, const RecordStamp& stamp) {
        insert.bind_text(1, id);
        insert.bind_integer(2, stamp.sitting);
        insert.bind_text(3, stamp.at);
        insert.bind_text(4, stamp.by);
        for (const auto& [place, at] : {std::pair{5, &stamp.removed_at}, {6, &stamp.along_at}})
            at->empty() ? insert.bind_null(place) : insert.bind_text(place, *at);
        insert.run();
    };
    const auto write = [&](const Id& id) {
        const auto stamps = together(mine.records.stamps_of(id), theirs.records.stamps_of(id));
        for (const RecordStamp& stamp : stamps)
            put(id, stamp);
        const auto chosen = decided.find(id);
        if (chosen == decided.end()) return;
        const UnitedInput& whose = chosen->second == Whose::mine ? mine : theirs;
        put(id, stamp_of_decision(into, stamps, id, whose.records.find(id)->content,
                                  last_of(whose.records.stamps_of(id))));
    };
    for (const auto& [id, stamps] : mine.records.stamps)
        write(id);
    for (const auto& [id, stamps] : theirs.records.stamps)
        if (!mine.records.stamps.contains(id)) write(id);
    for (const auto& [id, whose] : decided)
        if (!mine.records.stamps.contains(id) && !theirs.records.stamps.contains(id)) write(id);
}

void write_joined(SQLite::Database& into, const StandsFor& stands_for) {
    for (const auto& [younger, older] : stands_for.joined())
        ask(into, "INSERT INTO joined_record (joined_id, record_id) VALUES (?, ?)",
            {younger, stands_for.of(older)})
            .exec();
}

void check_every_row_leads_somewhere(SQLite::Database& into) {
    SQLite::Statement broken{into, R"(SELECT count(*), min("table") FROM pragma_foreign_key_check)"};
    broken.executeStep();
    if (broken.getColumn(0).getInt() > 0)
        throw SeasonError(
            SeasonFault::damaged,
            fmt::format("One of the two seasons has rows that lead to nothing ({} in table {}), so nothing "
                        "was written. See which with: ropeline check SEASON",
                        broken.getColumn(0).getInt(), broken.getColumn(1).getString()));
}

} // namespace

void write_united(SQLite::Database& into, const UnitedInput& mine, const UnitedInput& theirs,
                  const StandsFor& stands_for, const Chosen& chosen, const std::map<Id, Whose>& decided,
                  const std::filesystem::path& home) {
    // What is written are rows of files that passed the schema's CHECKs when they were opened.
    into.exec("PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON; BEGIN");
    const auto statements = take_indexes_and_triggers(into);
    const Source source{mine.records, theirs.records, chosen};
    const FilmPlaces my_places = film_places(mine.db, mine.path, stands_for, home);
    const FilmPlaces their_places = film_places(theirs.db, theirs.path, stands_for, home);
    const FilmPlaces my_found = my_places.or_where_found(their_places);
    const FilmPlaces their_found = their_places.or_where_found(my_places);
    const auto records_of = [&](Whose whose) {
        return [&, whose](const Id& record) { return source.of(record) == whose; };
    };
    for (const std::string_view table : tables) {
        TableWriter{into, mine.db, table, stands_for, chosen}.write(records_of(Whose::mine), my_found);
        TableWriter{into, theirs.db, table, stands_for, chosen}.write(records_of(Whose::theirs), their_found);
    }
    write_stamps(into, mine, theirs, decided);
    const auto removed_of = [&](Whose whose) {
        std::unordered_set<Id> ids;
        for (const auto& [id, from] : chosen.removed_rows)
            if (from == whose) ids.insert(id);
        return ids;
    };
    write_removed(into, mine.db, removed_of(Whose::mine), stands_for);
    write_removed(into, theirs.db, removed_of(Whose::theirs), stands_for);
    write_joined(into, stands_for);
    for (const std::string& statement : statements)
        into.exec(statement);
    write_counted(into, mine, theirs, stands_for, chosen);
    write_counted(into, theirs, mine, stands_for, chosen);
    count_the_rest(into);
    check_every_row_leads_somewhere(into);
    into.exec("COMMIT; PRAGMA foreign_keys = ON; PRAGMA ignore_check_constraints = OFF");
}

} // namespace ropeline
