// Is a season file sound, are its films where it says, and if not, back to its backup.
#pragma once

#include "season/season_file.h"

namespace ropeline {

struct CheckLine {
    bool fine = true;
    std::string text; ///< one line
};

/// What was looked at, one line each: file, foreign keys, schema version, counted shots, films, backup. Never writes.
/// A file that cannot be opened at all is a line too. Throws nothing but std::bad_alloc.
std::vector<CheckLine> check_season(const std::filesystem::path& path);

/// Puts the backup (NAME.season.backup) in the place of a damaged or missing season; the damaged file is kept
/// beside it.
/// A sound season stays, its shots counted anew where they are kept otherwise than their facts say.
/// Out     one line: what was done, or that there was nothing to do; and what was set aside beside the file.
/// Throws  SeasonError when there is no sound backup, or a desk has the season open.
std::string repair_season(const std::filesystem::path& path);

} // namespace ropeline
