#include "desk/picture_clipboard.h"

#include <cstdlib>
#include <fcntl.h>
#include <spawn.h>
#include <string>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

extern char** environ; // NOLINT: environ(7), what a started program is given

namespace ropeline {

namespace {

/// Both programs leave a child behind that hands the picture out; it must not hold on to our output.
bool ran_well(const std::vector<std::string>& call, const std::filesystem::path& input) {
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, input.c_str(), O_RDONLY, 0);
    for (const int out : {STDOUT_FILENO, STDERR_FILENO})
        posix_spawn_file_actions_addopen(&actions, out, "/dev/null", O_WRONLY, 0);
    std::vector<char*> words;
    for (const std::string& word : call)
        words.push_back(const_cast<char*>(word.c_str()));
    words.push_back(nullptr);
    pid_t child = 0;
    const bool started = posix_spawnp(&child, words.front(), &actions, nullptr, words.data(), environ) == 0;
    posix_spawn_file_actions_destroy(&actions);
    int status = 1;
    if (started) waitpid(child, &status, 0);
    return started && status == 0;
}

} // namespace

bool put_on_clipboard(const std::filesystem::path& png) {
    if (std::getenv("WAYLAND_DISPLAY") && ran_well({"wl-copy", "--type", "image/png"}, png)) return true;
    return std::getenv("DISPLAY") &&
           ran_well({"xclip", "-selection", "clipboard", "-target", "image/png"}, png);
}

} // namespace ropeline
