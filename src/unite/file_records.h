// Inside src/unite: the records of one season file, each as what two files are compared by: a hash of what a coach wrote,
// what it needs, and who changed it when.
#pragma once

#include "unite/record_kinds.h"
#include "unite/stands_for.h"

#include <SQLiteCpp/Database.h>

#include <cstdint>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

namespace ropeline {

/// The last change of a record in one sitting, and how far removals had seen the changes of that sitting.
struct RecordStamp {
    std::int64_t sitting = 0;
    std::string at, by;               ///< at: UTC, ISO 8601
    std::string removed_at, along_at; ///< of the record; of what it belongs to, or by undo; empty: not at all

    bool operator==(const RecordStamp&) const = default;
};

struct FileRecord {
    RecordKind kind{};
    std::uint64_t content = 0; ///< of what a coach wrote, parts included
    std::uint64_t figures = 0; ///< of what other records' figures rest on
    std::vector<Id> needs;     ///< what it cannot be without; those it goes with first
    std::size_t owners = 0;    ///< how many of them it goes with
    bool follows = false;      ///< nobody made it: a fit that was carried
    bool removed = false;      ///< the season has it no more; this is what it last held
    std::string place;         ///< of a clock mark: film and frame, of which there is one
};

struct FileRecords {
    std::unordered_map<Id, FileRecord> records;
    std::unordered_map<Id, std::vector<RecordStamp>>
        stamps; ///< by sitting; also of records that were removed

    const FileRecord* find(const Id& id) const; ///< also a removed one
    const FileRecord* find_there(const Id& id) const;
    const std::vector<RecordStamp>& stamps_of(const Id& id) const;
};

/// Every record under the id that stands for it.
/// In      removed: records that the season has no more, whose rows restore_removed() put back.
FileRecords read_records(SQLite::Database& db, const StandsFor& stands_for, const std::set<Id>& removed);

/// How two files' changes of a record lie to each other.
enum class ChangeOrder { same, before, after, apart };
ChangeOrder order_of(const std::vector<RecordStamp>& mine, const std::vector<RecordStamp>& theirs);

/// The last of them by time; null without any.
const RecordStamp* last_of(const std::vector<RecordStamp>& stamps);

/// Of each sitting the later change and the later removals.
std::vector<RecordStamp> together(const std::vector<RecordStamp>& mine,
                                  const std::vector<RecordStamp>& theirs);

} // namespace ropeline
