// Inside src/season: which large seasons were read through for damage already, so that opening one again does not read all of
// it once more (100 000 shots: 4 s). A file counts as the same while its place on the disk, its size and the times of its last
// change are: whoever writes to it, by hand or by a failing copy, moves those.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace ropeline {

/// What the file is now, as a word; nothing for a small one, which is read through each time, or one that cannot be looked at.
std::optional<std::string> state_of_large_file(const std::filesystem::path& path);

bool was_sound_before(const std::string& state);

/// Remembered for this user (~/.cache/ropeline/sound-seasons); where that cannot be written, nothing happens.
void remember_as_sound(const std::string& state) noexcept;

} // namespace ropeline
