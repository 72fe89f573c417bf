#include "unite/file_records.h"

#include "season/change_log.h"
#include "season/raw_statement.h"
#include "season/record_stamps.h"
#include "season/sql.h"

#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <functional>
#include <map>
#include <string_view>
#include <tuple>

namespace ropeline {
namespace {

/// Source  the finishing step of splitmix64 (from memory); any that spreads every bit does.
std::uint64_t mixed(std::uint64_t value) {
    value += 0x9e3779b97f4a7c15ULL;
    value = (value ^ (value >> 30)) * 0xbf58476d1ce4e5b9ULL;
    value = (value ^ (value >> 27)) * 0x94d049bb133111ebULL;
    return value ^ (value >> 31);
}

/// Which of the columns of a query hold ids.
std::vector<bool> id_columns(const RawStatement& query) {
    std::vector<bool> ids;
    for (int i = 0; i < query.columns(); ++i)
        ids.push_back(holds_an_id(query.name(i)));
    return ids;
}

class RowHash {
public:
    explicit RowHash(const StandsFor& stands_for) : stands_for_(stands_for) {}

    /// Of the columns from `first` on.
    std::uint64_t operator()(const RawStatement& row, int first, const std::vector<bool>& ids) {
        bytes_.clear();
        for (int i = first; i < static_cast<int>(ids.size()); ++i)
            add(row, i, ids[static_cast<std::size_t>(i)]);
        return mixed(std::hash<std::string_view>{}(bytes_));
    }

private:
    void add(const RawStatement& row, int column, bool is_id) {
        const int type = sqlite3_column_type(row.get(), column);
        bytes_ += static_cast<char>('0' + type);
        if (type == SQLITE_FLOAT || type == SQLITE_INTEGER) {
            const double real = sqlite3_column_double(row.get(), column);
            const std::int64_t whole = sqlite3_column_int64(row.get(), column);
            const void* from = type == SQLITE_FLOAT ? static_cast<const void*>(&real) : &whole;
            bytes_.append(static_cast<const char*>(from), 8);
        } else if (type != SQLITE_NULL) {
            const std::string_view text = row.text(column);
            bytes_ += is_id ? std::string_view{stands_for_.of(Id{text})} : text;
            bytes_ += '\x1f';
        }
    }

    const StandsFor& stands_for_;
    std::string bytes_;
};

std::string named_columns(SQLite::Database& db, const char* table, std::string_view also) {
    std::string list{also};
    for (const std::string& column : columns_by_hand(db, table)) {
        if (column == std::string{table} + ".id" || column.ends_with(".mark_id")) continue;
        list += fmt::format("{}{}", list.empty() ? "" : ", ", column);
    }
    return list;
}

void read_kind(SQLite::Database& db, const KindFact& fact, const StandsFor& stands_for,
               const std::set<Id>& removed, FileRecords& file) {
    std::string needs;
    for (const auto& columns : {fact.owners, fact.needs})
        for (const std::string_view column : columns)
            needs += fmt::format(", {}", column);
    RawStatement query{
        db, fmt::format("SELECT id{}, {} FROM {}", needs, named_columns(db, fact.table, ""), fact.table)};
    const auto ids = id_columns(query);
    const int first = 1 + static_cast<int>(fact.owners.size() + fact.needs.size());
    RowHash hash{stands_for};
    while (query.step()) {
        FileRecord record;
        record.kind = fact.kind;
        record.content = hash(query, first, ids);
        record.figures = *fact.figures ? 0 : record.content;
        for (int i = 1; i < first; ++i) {
            if (query.is_null(i)) continue;
            record.needs.push_back(stands_for.of(Id{query.text(i)}));
            if (i <= static_cast<int>(fact.owners.size())) record.owners = record.needs.size();
        }
        record.follows = fact.kind == RecordKind::rink_fit && record.needs.size() == 2;
        const Id own_id{query.text(0)};
        record.removed = !removed.empty() && removed.contains(own_id);
        const auto [known, is_new] = file.records.try_emplace(stands_for.of(own_id), std::move(record));
        // Of two that are one now, the one that is there.
        if (!is_new && known->second.removed) known->second = std::move(record);
    }
}

void read_figures(SQLite::Database& db, const KindFact& fact, const StandsFor& stands_for,
                  FileRecords& file) {
    if (!*fact.figures) return;
    RawStatement query{db, fmt::format("SELECT id, {} FROM {}", fact.figures, fact.table)};
    const auto ids = id_columns(query);
    RowHash hash{stands_for};
    while (query.step())
        file.records.at(stands_for.of(Id{query.text(0)})).figures = hash(query, 1, ids);
}

// The parts of a record are added up, so that it does not matter in which order they come.
void read_parts(SQLite::Database& db, const PartFact& fact, const StandsFor& stands_for, FileRecords& file) {
    RawStatement query{db, fmt::format("SELECT {}, '{}', {} FROM {}", record_of(fact.table, fact.table),
                                       fact.table, named_columns(db, fact.table, fact.also), fact.from)};
    const auto ids = id_columns(query);
    RowHash hash{stands_for};
    while (query.step()) {
        const auto owner = file.records.find(stands_for.of(Id{query.text(0)}));
        if (owner == file.records.end())
            continue; // a row that leads nowhere; what is written is checked for those
        const std::uint64_t part = hash(query, 1, ids);
        owner->second.content += part;
        if (fact.figures) owner->second.figures += part;
    }
}

void read_stamps(SQLite::Database& db, const StandsFor& stands_for, FileRecords& file) {
    RawStatement query{
        db, "SELECT record_id, sitting, changed_at, changed_by, removed_at, along_at FROM record_change"};
    while (query.step()) {
        auto& stamps = file.stamps[stands_for.of(Id{query.text(0)})];
        stamps = together(stamps, {{query.integer(1), std::string{query.text(2)}, std::string{query.text(3)},
                                    std::string{query.text(4)}, std::string{query.text(5)}}});
    }
}

void read_places(SQLite::Database& db, const StandsFor& stands_for, FileRecords& file) {
    RawStatement query{db, "SELECT id, film_id, frame FROM clock_mark"};
    while (query.step())
        file.records.at(stands_for.of(Id{query.text(0)})).place =
            fmt::format("{} {}", stands_for.of(Id{query.text(1)}), query.text(2));
}

} // namespace

const FileRecord* FileRecords::find(const Id& id) const {
    const auto found = records.find(id);
    return found == records.end() ? nullptr : &found->second;
}

const FileRecord* FileRecords::find_there(const Id& id) const {
    const FileRecord* record = find(id);
    return record && !record->removed ? record : nullptr;
}

const std::vector<RecordStamp>& FileRecords::stamps_of(const Id& id) const {
    static const std::vector<RecordStamp> none;
    const auto found = stamps.find(id);
    return found == stamps.end() ? none : found->second;
}

FileRecords read_records(SQLite::Database& db, const StandsFor& stands_for, const std::set<Id>& removed) {
    FileRecords file;
    std::size_t rows = 0;
    for (const KindFact& fact : kind_facts())
        rows += static_cast<std::size_t>(
            db.execAndGet(fmt::format("SELECT count(*) FROM {}", fact.table)).getInt64());
    file.records.reserve(rows);
    for (const KindFact& fact : kind_facts()) {
        read_kind(db, fact, stands_for, removed, file);
        read_figures(db, fact, stands_for, file);
    }
    for (const PartFact& fact : part_facts())
        read_parts(db, fact, stands_for, file);
    read_stamps(db, stands_for, file);
    read_places(db, stands_for, file);
    return file;
}

std::vector<RecordStamp> together(const std::vector<RecordStamp>& mine,
                                  const std::vector<RecordStamp>& theirs) {
    if (mine.empty()) return theirs;
    std::map<std::int64_t, RecordStamp> all;
    for (const auto* stamps : {&mine, &theirs})
        for (const RecordStamp& stamp : *stamps) {
            const auto [known, is_new] = all.try_emplace(stamp.sitting, stamp);
            if (is_new) continue;
            RecordStamp& one = known->second;
            if (std::tie(one.at, one.by) < std::tie(stamp.at, stamp.by)) {
                one.at = stamp.at;
                one.by = stamp.by;
            }
            one.removed_at = std::max(one.removed_at, stamp.removed_at);
            one.along_at = std::max(one.along_at, stamp.along_at);
        }
    std::vector<RecordStamp> stamps;
    for (auto& [sitting, stamp] : all)
        stamps.push_back(std::move(stamp));
    return stamps;
}

// Each file knows, of every sitting that changed the record, the last time in it. One that knows all that the other knows
// and more was changed later; where each knows something the other does not, both were changed.
// Source  Parker et al., Detection of Mutual Inconsistency in Distributed Systems, 1983: version vectors (from memory).
ChangeOrder order_of(const std::vector<RecordStamp>& mine, const std::vector<RecordStamp>& theirs) {
    bool mine_has_more = false, theirs_has_more = false;
    auto m = mine.begin();
    auto t = theirs.begin();
    while (m != mine.end() || t != theirs.end()) {
        if (t == theirs.end() || (m != mine.end() && m->sitting < t->sitting)) {
            mine_has_more = true;
            ++m;
        } else if (m == mine.end() || t->sitting < m->sitting) {
            theirs_has_more = true;
            ++t;
        } else {
            mine_has_more |= t->at < m->at;
            theirs_has_more |= m->at < t->at;
            ++m, ++t;
        }
    }
    if (mine_has_more && theirs_has_more) return ChangeOrder::apart;
    if (mine_has_more) return ChangeOrder::after;
    return theirs_has_more ? ChangeOrder::before : ChangeOrder::same;
}

const RecordStamp* last_of(const std::vector<RecordStamp>& stamps) {
    const auto last = std::ranges::max_element(
        stamps, {}, [](const RecordStamp& stamp) { return std::tie(stamp.at, stamp.sitting); });
    return last == stamps.end() ? nullptr : &*last;
}

} // namespace ropeline
