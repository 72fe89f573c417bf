// Inside src/unite: both sides of a record read again, field by field.
#pragma once

#include "unite/conflict.h"
#include "unite/file_records.h"

#include <SQLiteCpp/Database.h>

namespace ropeline {

/// One of two files that are being united.
struct OpenedFile {
    SQLite::Database& db;
    const FileRecords& records;
};

MergeConflict conflict_of(const OpenedFile& mine, const OpenedFile& theirs, const StandsFor& stands_for,
                          const Id& id);

} // namespace ropeline
