// What the view shot_facts says, read column by column: SeasonFile::shot_facts() is held against it.
#pragma once

#include "season/records.h"

#include <filesystem>
#include <vector>

namespace ropeline::sample {

std::vector<ShotFact> facts_of_view(const std::filesystem::path& season);

} // namespace ropeline::sample
