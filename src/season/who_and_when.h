// Inside src/season: who logged a shot or overruled a verdict, and when, filled in where the record does not bring it.
#pragma once

#include "season/records.h"

#include <SQLiteCpp/Database.h>

namespace ropeline {

struct WhoAndWhen {
    std::string who, when; ///< when: UTC, ISO 8601; both empty: nobody
};

/// When the shot was logged by the one it names: as the record says, else as it is stored, else now.
std::string when_tagged(SQLite::Database& db, const Shot& shot, const Id& id);

/// Who overruled the moment's verdict, and when: as stored where it is the overruling that is stored, as the record says
/// where it brings its own, else the season's reviewer now.
WhoAndWhen who_overruled(SQLite::Database& db, const Moment& moment, const Id& id);

} // namespace ropeline
