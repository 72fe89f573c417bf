// A chart as a PNG file, for who cannot use an SVG: the same scene on the same white paper.
#pragma once

#include "sheet/season_charts.h"

#include <filesystem>
#include <span>
#include <string>

namespace ropeline {

/// The file's bytes.
/// Throws  std::bad_alloc
std::string png_of(const Scene& scene, int width_px = 1600);

/// Each as NAME.svg and NAME.png.
/// Throws  UnwritableFile, std::bad_alloc
void write_chart_files(const std::filesystem::path& folder, std::span<const NamedChart> charts);

} // namespace ropeline
