// A record that two coaches both changed, in words that a coach can decide by.
#pragma once

#include "season/records.h"

#include <string>
#include <vector>

namespace ropeline {

struct ConflictingField {
    std::string field; ///< column, or what kind of part
    std::string mine, theirs;
};

struct MergeConflict {
    Id id;
    std::string what; ///< "shot of Ilse Tamm, 2026-11-01, period 2, 12:34"
    std::vector<ConflictingField> fields;
    std::string mine_changed,
        theirs_changed; ///< "2026-11-25 14:03 UTC by Anna"; empty: neither file says when
};

/// One line: the id, what it is, each field with both values, who changed it when.
std::string line_of(const MergeConflict& conflict);

} // namespace ropeline
