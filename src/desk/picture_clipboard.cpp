#include "desk/picture_clipboard.h"

#include "desk/started_program.h"

#include <cstdlib>
#include <fcntl.h>
#include <string>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

namespace ropeline {

namespace {

/// Both programs leave a child behind that hands the picture out; it must not hold on to our output.
bool ran_well(const std::vector<std::string>& call, const std::filesystem::path& input) {
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, input.c_str(), O_RDONLY, 0);
    for (const int out : {STDOUT_FILENO, STDERR_FILENO})
        posix_spawn_file_actions_addopen(&actions, out, "/dev/null", O_WRONLY, 0);
    const auto child = started_program(call, actions);
    int status = 1;
    if (child) waitpid(*child, &status, 0);
    return child && status == 0;
}

} // namespace

bool put_on_clipboard(const std::filesystem::path& png) {
    if (std::getenv("WAYLAND_DISPLAY") && ran_well({"wl-copy", "--type", "image/png"}, png)) return true;
    return std::getenv("DISPLAY") &&
           ran_well({"xclip", "-selection", "clipboard", "-target", "image/png"}, png);
}

} // namespace ropeline
