// How long an expert's hands need for what was typed and clicked, without mistakes and without the thinking that the
// play itself asks for.
// Source: Card, Moran, Newell, "The keystroke-level model for user performance time with interactive systems",
// Communications of the ACM 23(7), 1980, 396-410: K 0.28 s (an average typist, 40 words a minute), P 1.10 s,
// H 0.40 s, M 1.35 s, B 0.10 s a press or a release.
#pragma once

#include <algorithm>
#include <string_view>

namespace ropeline::test {

class KeystrokeLevel {
public:
    /// A chord in xdotool's words: each modifier is a key of its own.
    void key(std::string_view chord) {
        go_to(Device::keys);
        seconds_ += 0.28 * static_cast<double>(1 + std::ranges::count(chord, '+'));
    }
    void click() {
        go_to(Device::mouse);
        seconds_ += 1.10 + 2 * 0.10;
    }
    /// Before each unit of the task: what to do next.
    void think() { seconds_ += 1.35; }
    double seconds() const { return seconds_; }

private:
    enum class Device { keys, mouse };
    void go_to(Device device) {
        if (device != at_) seconds_ += 0.40;
        at_ = device;
    }
    Device at_ = Device::keys;
    double seconds_ = 0.0;
};

} // namespace ropeline::test
