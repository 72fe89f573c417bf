#include "short_demo.h"

#include <cstdlib>
#include <fcntl.h>
#include <stdexcept>
#include <string>
#include <sys/file.h>
#include <unistd.h>

namespace ropeline::test {

namespace {

namespace fs = std::filesystem;

/// As long as it lives, no other test program makes the demo.
struct OneAtATime {
    int file;
    explicit OneAtATime(const fs::path& path) : file(open(path.c_str(), O_CREAT | O_RDWR | O_CLOEXEC, 0644)) {
        if (file < 0 || flock(file, LOCK_EX) != 0) throw std::runtime_error("cannot lock " + path.string());
    }
    ~OneAtATime() { close(file); }
};

fs::path made() {
    const fs::path desk = fs::path(ROPELINE_PROGRAM).parent_path() / "ropeline-desk"; // which renders it
    const fs::path folder = fs::path(ROPELINE_PROGRAM).parent_path().parent_path() / "short_demo";
    const OneAtATime alone(folder.string() + ".lock");
    const fs::path season = folder / "demo.season"; // written last
    if (fs::exists(season) && fs::last_write_time(season) > fs::last_write_time(desk)) return folder;
    fs::remove_all(folder);
    const std::string command =
        "'" ROPELINE_PROGRAM "' demo '" + folder.string() + "' --short >/dev/null 2>&1";
    if (std::system(command.c_str()) != 0) throw std::runtime_error("failed: " + command);
    return folder;
}

} // namespace

const fs::path& short_demo() {
    static const fs::path folder = made();
    return folder;
}

void copy_short_demo(const fs::path& to) {
    fs::create_directories(to);
    fs::copy(short_demo(), to, fs::copy_options::recursive);
}

} // namespace ropeline::test
