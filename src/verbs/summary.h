// `summary` for both programs: the quick one has no libraries for pictures, so the other one writes the charts.
#pragma once

#include "sheet/season_charts.h"
#include "verbs/verbs.h"

#include <filesystem>
#include <span>

namespace ropeline {

/// Each chart as SVG and PNG into the folder.
using WriteCharts = void (*)(const std::filesystem::path& folder, std::span<const NamedChart> charts);

void add_summary_verb(CLI::App& app, Job& chosen, WriteCharts write_charts);

} // namespace ropeline
