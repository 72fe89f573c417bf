// Inside src/unite: a file that is made in a folder of its own beside its place, so that it is there whole or not at all,
// and neither is what a program leaves beside a file it works on.
#pragma once

#include <filesystem>
#include <functional>

namespace ropeline {

/// Has `make` make the file, brings it to the disk, then gives it its name.
/// Throws  SeasonError::exists, not_found for the folder; what `make` throws. Then nothing is left behind.
void make_beside(const std::filesystem::path& path,
                 const std::function<void(const std::filesystem::path& beside)>& make);

} // namespace ropeline
