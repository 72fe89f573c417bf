// Inside src/unite: which records a united season has, and whose. Pure.
#pragma once

#include "unite/file_records.h"

#include <map>
#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

namespace ropeline {

enum class Whose { mine, theirs };

/// The records that both changed, each in its own way, since the two files were one; by id. Where both know the same
/// changes and hold different things (a decision taken twice, an edit by hand), it is one of these too, and so is a record that
/// one changed and then removed.
std::vector<Id> changed_on_both(const FileRecords& mine, const FileRecords& theirs);

/// The later of the two changes; nothing where neither file says when.
std::optional<Whose> newer_of(const FileRecords& mine, const FileRecords& theirs, const Id& id);

struct Chosen {
    std::unordered_map<Id, Whose> kept;
    std::unordered_map<Id, Whose> removed_rows; ///< what removed records last held
    /// Shots whose figures stand as that file has them, or either; the others' are worked out.
    std::unordered_map<Id, std::optional<Whose>> figures;
    std::vector<Id> kept_although_removed; ///< in one file, and changed in the other
    std::vector<Id> kept_as_needed;        ///< removed in one file, and needed by what is kept of the other
    int brought = 0;                       ///< records that only they had
    int changed = 0;                       ///< that they had changed and I had not
    int removed = 0;                       ///< that they had removed
};

/// In      `decided` for every record of changed_on_both().
/// Out     A record that one file removed stays removed, unless the other changed it or something of it since: then it
///         comes back whole. What a kept record needs is kept: standing().
Chosen choose(const FileRecords& mine, const FileRecords& theirs, const std::map<Id, Whose>& decided);

} // namespace ropeline
