// A file that is there whole or not at all.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>

namespace ropeline {

enum class SheetFault { unwritable };

struct SheetError : std::runtime_error {
    SheetError(SheetFault f, const std::string& what) : std::runtime_error(what), fault(f) {}
    SheetFault fault;
};

/// Writes beside (NAME.new), then renames; makes the folder when it is missing.
/// Throws SheetError, one line; nothing is left behind and an older file of that name is untouched.
void write_whole_file(const std::filesystem::path& path, std::string_view text);

} // namespace ropeline
