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

/// "shot of Ilse Tamm, 2026-11-01, period 2, 12:34"
std::string what_it_is(const OpenedFile& file, const StandsFor& stands_for, const Id& id);

MergeConflict conflict_of(const OpenedFile& mine, const OpenedFile& theirs, const StandsFor& stands_for,
                          const Id& id);

} // namespace ropeline
