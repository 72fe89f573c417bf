// One short demo, written once for all tests of this program and removed at the end.
#pragma once

#include <nlohmann/json.hpp>

#include <filesystem>
#include <string>

namespace ropeline::demo {

/// A folder of its own, gone with the program.
std::filesystem::path own_folder(const std::string& name);
/// The folder of a demo of six seconds.
const std::filesystem::path& made_demo();
nlohmann::json truth_of(const std::string& film_stem);

} // namespace ropeline::demo
