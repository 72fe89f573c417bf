// Inside src/season: a connection that is safe to use on a file from anywhere, and the checks before it is
// used.
#pragma once

#include <SQLiteCpp/Database.h>

#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

enum class Access { read, write };

/// What is read through for damage of a large file that was not yet.
enum class Sound { all, what_counts };

/// Puts aside what SQLite must not see beside the file, opens, sets what the connection may do, and checks that it is a
/// sound season file of a version that this program knows (an older one passes).
/// Out     `set_aside`, when asked for: a line for each thing that was put aside, also when it then throws.
/// Throws  SeasonError.
std::unique_ptr<SQLite::Database> connect(const std::filesystem::path& path, Access access,
                                          std::vector<std::string>* set_aside = nullptr,
                                          Sound sound = Sound::all);

/// The same to read only, and of the newest version.
/// Throws  SeasonError; refused for an older version, which only opening for writing brings up to date.
std::unique_ptr<SQLite::Database> connect_to_newest(const std::filesystem::path& path,
                                                    std::vector<std::string>* set_aside = nullptr,
                                                    Sound sound = Sound::all);

/// A season of the newest version as it stands now, copied to where only this connection sees it: however long it is looked
/// at, a desk goes on writing to the file. A connection that read the file itself would keep every commit waiting.
/// Throws  as connect_to_newest() does.
std::unique_ptr<SQLite::Database> connect_to_copy(const std::filesystem::path& path);

/// Everything that is in `from`, as one state of it, in the place of what is in `into`.
/// Throws  SQLite::Exception, also when a program that writes to it does not end in time.
void copy_all(SQLite::Database& into, SQLite::Database& from);

/// A new file made into a season of the newest version; `wanted` is the name it shall have, for messages.
std::unique_ptr<SQLite::Database> connect_new(const std::filesystem::path& path,
                                              const std::filesystem::path& wanted);

int schema_version(SQLite::Database& db);

/// Applies the versions that are missing, in one transaction.
void apply_schema(SQLite::Database& db, std::span<const std::string_view> versions);

/// Applies the versions that are missing, with a copy of the file as it was put beside it first; nothing when none is.
void bring_up_to_date(SQLite::Database& db, const std::filesystem::path& path,
                      std::span<const std::string_view> versions);

/// True when every table, index, view and trigger of ours is as `versions` made it and the file brings no other trigger.
bool schema_is_ours(SQLite::Database& db, std::span<const std::string_view> versions);

/// What quick_check finds of the whole file or of one table, or nothing when it is sound.
std::string damage(SQLite::Database& db, std::string_view table = {});

} // namespace ropeline
