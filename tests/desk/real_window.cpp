#include "desk/real_window.h"

#include <fmt/core.h>

#include <array>
#include <chrono>
#include <cmath>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <stdexcept>
#include <string_view>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace ropeline::test {

namespace {

void pause(double seconds) {
    std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
}

/// Starts a shell command that becomes the program itself, so that a signal reaches it.
pid_t start(const std::string& command) {
    const pid_t child = fork();
    if (child < 0) throw std::runtime_error("fork failed");
    if (child == 0) {
        setpgid(0, 0);
        execl("/bin/sh", "sh", "-c", ("exec " + command).c_str(), nullptr);
        _exit(127);
    }
    return child;
}

void stop(pid_t& process, int signal) {
    if (process <= 0) return;
    ::kill(process, signal);
    waitpid(process, nullptr, 0);
    process = -1;
}

} // namespace

std::string output_of(const std::string& command) {
    FILE* pipe = popen(command.c_str(), "r");
    if (!pipe) throw std::runtime_error("cannot run " + command);
    std::string all;
    char part[512];
    while (std::fgets(part, sizeof part, pipe))
        all += part;
    pclose(pipe);
    while (!all.empty() && all.back() == '\n')
        all.pop_back();
    return all;
}

bool wait_for(double seconds, bool (*holds)(const std::filesystem::path&),
              const std::filesystem::path& about) {
    for (double waited = 0.0; waited < seconds; waited += 0.1) {
        if (holds(about)) return true;
        pause(0.1);
    }
    return holds(about);
}

VirtualDisplay::VirtualDisplay(const std::string& size) {
    static int number = 90 + static_cast<int>(getpid() % 50) * 2; // never one that is only just going away
    for (const int last = number + 100; number < last;) {
        const int tried = number++;
        name_ = fmt::format(":{}", tried);
        if (std::filesystem::exists(fmt::format("/tmp/.X{}-lock", tried))) continue;
        process_ =
            start(fmt::format("Xvfb {} -screen 0 {} -nolisten tcp -noreset >/dev/null 2>&1", name_, size));
        for (int waited = 0; waited < 100; ++waited) {
            pause(0.1);
            if (waitpid(process_, nullptr, WNOHANG) == process_) {
                process_ = -1; // somebody else took this number
                break;
            }
            if (!output_of("DISPLAY=" + name_ + " timeout 5 xdotool getdisplaygeometry 2>/dev/null").empty())
                return;
        }
        stop(process_, SIGKILL);
    }
    throw std::runtime_error(
        "no virtual display could be started: is Xvfb installed? (third_party/install.sh)");
}

VirtualDisplay::~VirtualDisplay() {
    stop(process_, SIGTERM);
}

DeskWindow::DeskWindow(const VirtualDisplay& display, const std::filesystem::path& home,
                       const std::string& arguments)
    : display_(display.name()), trace_(home / "trace.csv") {
    process_ = start(fmt::format(
        "env DISPLAY={0} HOME='{1}' XDG_CONFIG_HOME='{1}/config' LIBGL_ALWAYS_SOFTWARE=1 "
        "SDL_AUDIODRIVER=dummy ASAN_OPTIONS=detect_leaks=0 '{2}' open --trace '{1}/trace.csv' {3} "
        ">'{1}/desk.log' 2>&1",
        display_, home.string(), ROPELINE_PROGRAM, arguments));
    int status = 0;
    bool ended = false;
    for (int waited = 0; waited < 300 && window_.empty() && !ended; ++waited) {
        pause(0.1);
        window_ = xdotool("search --name 'Ropeline$' | tail -n 1");
        ended = waitpid(process_, &status, WNOHANG) == process_;
    }
    if (window_.empty()) {
        const std::string end = !ended                ? "it still runs"
                                : WIFSIGNALED(status) ? fmt::format("signal {}", WTERMSIG(status))
                                                      : fmt::format("it ended with {}", WEXITSTATUS(status));
        if (!ended) stop(process_, SIGKILL);
        throw std::runtime_error(fmt::format("the desk's window did not come up on display {} ({}): {}",
                                             display_, end,
                                             output_of("cat '" + home.string() + "/desk.log'")));
    }
    xdotool("windowfocus " + window_);
    settle();
}

DeskWindow::~DeskWindow() {
    stop(process_, SIGKILL);
}

std::string DeskWindow::xdotool(const std::string& arguments) const {
    return output_of(fmt::format("DISPLAY={} timeout 20 xdotool {} 2>/dev/null", display_, arguments));
}

namespace {

/// Whether the desk's last word is that it has drawn all that was done to it.
bool rests(const std::filesystem::path& trace) {
    constexpr std::string_view word = "rests\n";
    std::ifstream file(trace, std::ios::binary);
    std::array<char, word.size()> end{};
    return file.seekg(-static_cast<std::streamoff>(word.size()), std::ios::end) &&
           file.read(end.data(), end.size()) && std::string_view(end.data(), end.size()) == word;
}

} // namespace

std::uintmax_t DeskWindow::told() const {
    std::error_code failed;
    const auto size = std::filesystem::file_size(trace_, failed);
    return failed ? 0 : size;
}

void DeskWindow::settle() const {
    settle_since(told());
}

void DeskWindow::settle_since(std::uintmax_t before) const {
    constexpr double quiet_s = 0.1;   // nothing new for so long, and the season's change is on the disk
    constexpr double unseen_s = 0.35; // an event that changes nothing, as a cursor that is there already
    constexpr double longest_s = 20.0;
    auto size = told();
    double quiet = 0.0;
    for (double waited = 0.0; waited < longest_s; waited += 0.02) {
        const bool drawn = size != before && rests(trace_);
        if (quiet >= quiet_s && (drawn || (size == before && waited >= unseen_s))) return;
        pause(0.02);
        const auto now = told();
        quiet = now == size || rests(trace_) ? quiet + 0.02 : 0.0;
        size = now;
    }
    fmt::print("the desk did not rest within {} s\n", longest_s);
}

std::vector<DeskWindow::Turn> DeskWindow::turns() const {
    std::vector<Turn> all;
    std::ifstream file(trace_);
    std::string line;
    while (std::getline(file, line)) {
        Turn turn;
        long long shown = -1;
        long long wanted = -1;
        if (std::sscanf(line.c_str(), "%lf,%lf,%lld,%lld", &turn.seconds, &turn.busy_ms, &shown, &wanted) !=
            4)
            continue; // the head, or a line that is just being written
        turn.shown = shown;
        turn.wanted = wanted;
        all.push_back(turn);
    }
    return all;
}

bool DeskWindow::wait_for_frame(std::int64_t frame) const {
    for (double waited = 0.0; waited < 30.0; waited += 0.05) {
        const auto all = turns();
        if (!all.empty() && all.back().shown == frame && all.back().wanted == frame) return true;
        pause(0.05);
    }
    return false;
}

void DeskWindow::act(const std::string& arguments) const {
    const auto before = told();
    xdotool(arguments);
    settle_since(before);
}

void DeskWindow::key(const std::string& keys) const {
    act("key --delay 30 " + keys);
}

void DeskWindow::type(const std::string& text) const {
    act("type --delay 25 '" + text + "'");
}

void DeskWindow::click(ScreenPoint at) const {
    act(fmt::format("mousemove --window {} {} {}", window_, std::lround(at.x), std::lround(at.y)));
    act("click 1");
}

void DeskWindow::resize(int width, int height) const {
    act(fmt::format("windowsize {} {} {}", window_, width, height));
}

void DeskWindow::picture(const std::filesystem::path& png) const {
    output_of(fmt::format("DISPLAY={} timeout 20 import -window {} '{}' 2>/dev/null", display_, window_,
                          png.string()));
}

void DeskWindow::leave() {
    ::kill(process_, SIGTERM); // which SDL takes for the window's button
    waitpid(process_, nullptr, 0);
    process_ = -1;
}

void DeskWindow::kill() {
    stop(process_, SIGKILL);
}

bool DeskWindow::running() const {
    return process_ > 0 && waitpid(process_, nullptr, WNOHANG) == 0;
}

} // namespace ropeline::test
