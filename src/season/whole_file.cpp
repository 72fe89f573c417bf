#include "season/whole_file.h"

#include <fmt/core.h>

#include <cerrno>
#include <cstdio>
#include <system_error>

namespace ropeline {

namespace fs = std::filesystem;

namespace {

void write(const fs::path& path, std::string_view text) {
    std::FILE* file = std::fopen(path.c_str(), "wb");
    const bool written = file && std::fwrite(text.data(), 1, text.size(), file) == text.size();
    int reason = written ? 0 : errno;
    if (file && std::fclose(file) != 0 && reason == 0) reason = errno;
    if (reason != 0) throw std::system_error(reason, std::generic_category());
}

} // namespace

void put_in_place(const fs::path& path, const std::function<void(const fs::path& beside)>& make) {
    const fs::path beside = path.string() + ".new";
    fs::remove(beside);
    try {
        make(beside);
        fs::rename(beside, path);
    } catch (...) {
        std::error_code ignored;
        fs::remove(beside, ignored);
        throw;
    }
}

void write_whole_file(const fs::path& path, std::string_view text) {
    try {
        if (path.has_parent_path()) fs::create_directories(path.parent_path());
        put_in_place(path, [&](const fs::path& beside) { write(beside, text); });
    } catch (const std::system_error& error) {
        throw UnwritableFile(
            fmt::format("{} cannot be written ({}). Free some space or choose another folder.", path.string(),
                        error.code().message()));
    }
}

} // namespace ropeline
