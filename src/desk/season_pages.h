// Files of what the Season side shows, beside the season file: the page, the charts, the tables.
#pragma once

#include "desk/state/season_numbers.h"

#include <filesystem>
#include <string>

namespace ropeline {

enum class SeasonPaper { page, charts, tables };
std::string_view label_of(SeasonPaper paper);

/// Where they go: a folder of the season file's name beside it, another for each filter.
std::filesystem::path papers_folder(const std::filesystem::path& season_file, const std::string& asked);

/// Writes them, whole or not at all each.
/// Out     one line that says what is where.
/// Throws  UnwritableFile, std::bad_alloc
std::string write_papers(SeasonPaper paper, const std::filesystem::path& folder, const SharedFacts& facts,
                         const Season& season, const FactFilter& only, const std::string& asked);

} // namespace ropeline
