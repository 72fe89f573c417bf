// The coach's own keys: a plain file with a line for each key that is to be another one.
#pragma once

#include "desk/state/keys.h"

#include <filesystem>

namespace ropeline {

/// Beside the settings: keys.txt.
std::filesystem::path key_file_path();

/// "new_shot = J" line by line; # begins a remark. A line that cannot be read comes back in `told`.
struct KeyFile {
    std::vector<KeyChange> changes;
    std::vector<std::string> told;
};
KeyFile read_key_file(std::string_view text);

/// Every command with its usual key, each a remark until the coach takes the # away.
std::string usual_key_file();

/// Puts the file's keys in force; writes the usual ones there when there is none yet.
/// Out     one line for everything that does not hold, the file named; empty when all is well
std::string use_key_file(const std::filesystem::path& path);

} // namespace ropeline
