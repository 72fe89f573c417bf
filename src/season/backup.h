// Inside src/season: the copy beside a season file (NAME.season.backup), and going back to it.
#pragma once

#include <SQLiteCpp/Database.h>

#include <filesystem>

namespace ropeline {

std::filesystem::path backup_path(const std::filesystem::path& season);

/// Copies the open season beside itself under this name: written under another name, checked, closed, then
/// renamed. Throws SeasonError or SQLite::Exception; what was there under this name is then untouched.
void copy_season(SQLite::Database& db, const std::filesystem::path& copy);

/// True when the season changed after its backup was made, or has none.
bool backup_is_stale(const std::filesystem::path& season);

} // namespace ropeline
