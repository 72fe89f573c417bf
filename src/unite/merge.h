// Two coaches' seasons made into one.
#pragma once

#include "season/derive.h"
#include "unite/conflict.h"

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace ropeline {

enum class Keep { mine, theirs, newer };

/// Which of the two stays; nothing: it is not decided.
using DecideConflict = std::function<std::optional<Keep>(const MergeConflict&)>;

struct MergeReport {
    std::vector<MergeConflict> undecided;      ///< not empty: nothing was written
    std::vector<std::string> told;             ///< what was joined, what came back, a line each
    int shots = 0;                             ///< in the united season
    int brought = 0, changed = 0, removed = 0; ///< records that they had added, changed, removed
    int decided = 0;                           ///< conflicts
    int worked_out = 0;                        ///< shots whose figures rest on both files
};

/// Writes a new season that has what either has, by id. What only one of them changed or removed since the two were one file
/// is as that one has it; what both changed is asked for. Neither file is written to. Any thread; blocking.
/// In      mine, theirs: seasons, which a desk may have open and write to meanwhile; they are taken as they are now. into: a file that is not there yet.
/// Out     Whichever of the two comes first, the same rows, where the answers are the same; uniting the result with either once
///         more changes nothing.
/// Throws  SeasonError, one line; then, as with undecided conflicts, nothing is left behind.
MergeReport merge_seasons(const std::filesystem::path& mine, const std::filesystem::path& theirs,
                          const std::filesystem::path& into, const DecideConflict& decide,
                          const Progress& progress = {});

} // namespace ropeline
