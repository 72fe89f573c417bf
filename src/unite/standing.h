// Inside src/unite: which records stand, of all that is known of them. Pure, and a function of nothing but the records and
// their stamps, so that it does not matter in which order those came together.
#pragma once

#include "unite/file_records.h"

#include <functional>
#include <span>
#include <unordered_set>
#include <vector>

namespace ropeline {

/// How removals lie to the changes of a record.
struct Removal {
    bool all = false;       ///< each change was seen by a removal of it or of what it belongs to
    bool of_itself = false; ///< each was seen by a removal of the record itself
    bool along = false;     ///< each was seen by one of what it belongs to, or by an undo of its making
};
Removal removal_of(std::span<const RecordStamp> mine, std::span<const RecordStamp> theirs = {});

struct KnownRecord {
    const FileRecord* record = nullptr;
    Removal removal;
};
using KnownRecords = std::unordered_map<Id, KnownRecord>;

struct Standing {
    std::unordered_set<Id> there;
    std::vector<Id> needed; ///< removed, and back since something that stands needs them
};

/// A change that no removal has seen keeps its record. What that record needs is there with it, and whole: with what was removed
/// along with it. What was removed along with something that stands after all is there too. Of two clock marks on a frame
/// the older one stands.
Standing standing(const KnownRecords& known);

/// Brings what a file says of its removals in line with what is in it: a row that is there stands, whatever was done to
/// the file, and one that is not there does not.
void settle_removals(FileRecords& file);

} // namespace ropeline
