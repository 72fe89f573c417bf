// The program as a coach calls it, in a folder of its own.
#pragma once

#include "season/sample.h"

#include <fmt/core.h>

#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace ropeline::sample {

struct Printed {
    int status = 0;
    std::string out, err;
};

inline std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// What it prints beside its exit status, in that folder; leaves nothing of its own there.
inline Printed ropeline(const Folder& folder, const std::string& arguments) {
    const std::string command = fmt::format("cd '{}' && '{}' {} > out.txt 2> err.txt", folder.path.string(),
                                            ROPELINE_PROGRAM, arguments);
    const int status = std::system(command.c_str());
    Printed printed{WEXITSTATUS(status), bytes_of(folder / "out.txt"), bytes_of(folder / "err.txt")};
    std::filesystem::remove(folder / "out.txt");
    std::filesystem::remove(folder / "err.txt");
    return printed;
}

inline bool is_one_line(const std::string& text) {
    return !text.empty() && text.find('\n') == text.size() - 1;
}

} // namespace ropeline::sample
