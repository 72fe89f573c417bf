// Inside src/season: the copy beside a season file (NAME.season.backup), and going back to it.
#pragma once

#include <SQLiteCpp/Database.h>

#include <filesystem>

namespace ropeline {

std::filesystem::path backup_path(const std::filesystem::path& season);

/// Copies the open season beside itself under this name: written under another name, closed, then renamed.
void copy_season(SQLite::Database& db, const std::filesystem::path& copy);

/// True when the season changed after its backup was made, or has none.
bool backup_is_stale(const std::filesystem::path& season);

} // namespace ropeline
