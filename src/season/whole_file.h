// Files that are there whole or not at all.
#pragma once

#include <filesystem>
#include <functional>
#include <stdexcept>
#include <string_view>

namespace ropeline {

/// Has `make` make the file beside (NAME.new), then renames it.
/// In      make: writes the file of the name it is given; no such file is there.
/// Throws  what `make` throws, std::filesystem::filesystem_error; nothing is left behind and an older file of that
///         name is untouched.
void put_in_place(const std::filesystem::path& path,
                  const std::function<void(const std::filesystem::path& beside)>& make);

struct UnwritableFile : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Puts a file of this text in place; makes the folder when it is missing.
/// Throws  UnwritableFile, one line.
void write_whole_file(const std::filesystem::path& path, std::string_view text);

} // namespace ropeline
