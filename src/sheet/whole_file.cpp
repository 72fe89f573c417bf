#include "sheet/whole_file.h"

#include <fmt/core.h>

#include <cerrno>
#include <cstdio>
#include <cstring>

namespace ropeline {
namespace {

[[noreturn]] void fail(const std::filesystem::path& path, const std::string& reason) {
    throw SheetError(SheetFault::unwritable,
                     fmt::format("{} cannot be written ({}). Free some space or choose another folder.",
                                 path.string(), reason));
}

} // namespace

void write_whole_file(const std::filesystem::path& path, std::string_view text) {
    const std::filesystem::path beside = path.string() + ".new";
    std::error_code error;
    if (path.has_parent_path()) std::filesystem::create_directories(path.parent_path(), error);
    if (error) fail(path, error.message());
    std::FILE* file = std::fopen(beside.c_str(), "wb");
    if (!file) fail(path, std::strerror(errno));
    const bool written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
    int reason = written ? 0 : errno;
    if (std::fclose(file) != 0 && reason == 0) reason = errno;
    if (reason == 0) std::filesystem::rename(beside, path, error);
    if (reason != 0 || error) {
        std::error_code ignored;
        std::filesystem::remove(beside, ignored);
        fail(path, reason != 0 ? std::strerror(reason) : error.message());
    }
}

} // namespace ropeline
