// Drives the real program in a virtual display with the keys and clicks a coach would make.
#pragma once

#include "desk/state/layout.h"

#include <cstdint>
#include <filesystem>
#include <string>
#include <sys/types.h>
#include <vector>

namespace ropeline::test {

/// A virtual X display of its own, gone with the object.
class VirtualDisplay {
public:
    explicit VirtualDisplay(const std::string& size = "1600x1000x24");
    ~VirtualDisplay();
    VirtualDisplay(const VirtualDisplay&) = delete;
    VirtualDisplay& operator=(const VirtualDisplay&) = delete;
    const std::string& name() const { return name_; } ///< ":97"

private:
    pid_t process_ = -1;
    std::string name_;
};

class DeskWindow {
public:
    /// Starts `ropeline open ARGUMENTS` with its own home folder and waits for the window.
    DeskWindow(const VirtualDisplay& display, const std::filesystem::path& home,
               const std::string& arguments = "");
    ~DeskWindow();
    DeskWindow(const DeskWindow&) = delete;
    DeskWindow& operator=(const DeskWindow&) = delete;

    void key(const std::string& keys) const; ///< xdotool's names, several with spaces between
    void type(const std::string& text) const;
    void click(ScreenPoint at) const; ///< pixels of the window
    void resize(int width, int height) const;
    void picture(const std::filesystem::path& png) const;
    void kill();  ///< SIGKILL
    void leave(); ///< as by the window's own button, and waits for the end
    bool running() const;
    void settle() const; ///< until the desk has drawn all that happens by itself
    /// Waits until this frame is on screen; false when it does not come in half a minute.
    bool wait_for_frame(std::int64_t frame) const;

    /// One presented turn, as the desk's own trace tells it.
    struct Turn {
        double seconds = 0.0, busy_ms = 0.0;
        std::int64_t shown = -1, wanted = -1;
    };
    std::vector<Turn> turns() const;

private:
    std::string xdotool(const std::string& arguments) const;
    void act(const std::string& arguments) const; ///< by xdotool, and waits until it is drawn
    std::uintmax_t told() const;                  ///< bytes of the trace so far
    /// Waits until the desk has drawn what followed those bytes: its trace says that it rests.
    void settle_since(std::uintmax_t before) const;

    std::string display_;
    std::filesystem::path trace_;
    pid_t process_ = -1;
    std::string window_;
};

/// Waits up to `seconds` for something to become true.
bool wait_for(double seconds, bool (*holds)(const std::filesystem::path&),
              const std::filesystem::path& about);

/// Runs a shell command and returns what it prints.
std::string output_of(const std::string& command);

} // namespace ropeline::test
