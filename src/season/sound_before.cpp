#include "season/sound_before.h"

#include "season/whole_file.h"

#include <fmt/format.h>
#include <sys/stat.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <vector>

namespace ropeline {
namespace {

constexpr off_t small_bytes = 1 << 20;
constexpr std::size_t most_lines = 200;

std::filesystem::path memory_file() {
    const auto of = [](const char* variable) {
        const char* value = std::getenv(variable);
        return std::filesystem::path{value ? value : ""};
    };
    if (const auto cache = of("XDG_CACHE_HOME"); cache.is_absolute())
        return cache / "ropeline" / "sound-seasons";
    if (const auto home = of("HOME"); home.is_absolute())
        return home / ".cache" / "ropeline" / "sound-seasons";
    return {};
}

std::vector<std::string> remembered() {
    std::vector<std::string> lines;
    std::ifstream in{memory_file()};
    for (std::string line; lines.size() < most_lines && std::getline(in, line);)
        lines.push_back(line);
    return lines;
}

} // namespace

std::optional<std::string> state_of_large_file(const std::filesystem::path& path) {
    struct stat found {};
    if (::stat(path.c_str(), &found) != 0 || found.st_size < small_bytes) return std::nullopt;
    return fmt::format("{}-{}-{}-{}.{:09}-{}.{:09}", found.st_dev, found.st_ino, found.st_size,
                       found.st_mtim.tv_sec, found.st_mtim.tv_nsec, found.st_ctim.tv_sec,
                       found.st_ctim.tv_nsec);
}

bool was_sound_before(const std::string& state) {
    const auto lines = remembered();
    return std::find(lines.begin(), lines.end(), state) != lines.end();
}

void remember_as_sound(const std::string& state) noexcept {
    try {
        if (memory_file().empty()) return;
        std::string text = state + "\n";
        for (const std::string& line : remembered())
            if (line != state) text += line + "\n";
        write_whole_file(memory_file(), text);
    } catch (const std::exception&) {
        return; // it will be read through again
    }
}

} // namespace ropeline
