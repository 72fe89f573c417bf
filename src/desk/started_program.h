// Another program of the system, started with what it reads and writes set up for it.
#pragma once

#include <optional>
#include <spawn.h>
#include <string>
#include <vector>

extern char** environ; // NOLINT: environ(7), what a started program is given

namespace ropeline {

/// In      `call`: its name, looked for in PATH, and its arguments; `actions` are used up.
/// Out     nothing when it cannot be started; else to be waited for.
inline std::optional<pid_t> started_program(const std::vector<std::string>& call,
                                            posix_spawn_file_actions_t& actions) {
    std::vector<char*> words;
    for (const std::string& word : call)
        words.push_back(const_cast<char*>(word.c_str()));
    words.push_back(nullptr);
    pid_t child = 0;
    const bool started = posix_spawnp(&child, words.front(), &actions, nullptr, words.data(), environ) == 0;
    posix_spawn_file_actions_destroy(&actions);
    return started ? std::optional{child} : std::nullopt;
}

} // namespace ropeline
