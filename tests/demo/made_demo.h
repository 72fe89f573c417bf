// The short demo's truth, and folders of a test's own.
#pragma once

#include <nlohmann/json.hpp>

#include <filesystem>
#include <string>

namespace ropeline::demo {

/// A folder of its own, gone with the program.
std::filesystem::path own_folder(const std::string& name);
/// What is true of a film of the short demo.
nlohmann::json truth_of(const std::string& film_stem);

} // namespace ropeline::demo
