// Inside src/season: what may lie beside a season file before SQLite looks at it.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace ropeline {

/// One name for one file, also through a link: two desks see the same lock, and it is where SQLite looks for a
/// journal.
std::filesystem::path one_name(const std::filesystem::path& path);

/// Puts aside, under another name beside it, what SQLite must not take for this file's journal: a link, a thing that
/// is no file, a file with a second name elsewhere, and a journal that names a super-journal, since SQLite removes
/// whatever file that names. A season is written alone and never has one.
/// Out     one line for each: what it was called, what it is called now.
/// Throws  SeasonError::read_only when it cannot be put aside; then the season must not be opened.
std::vector<std::string> set_aside_foreign_journals(const std::filesystem::path& season);

} // namespace ropeline
