// The film's sound to the loudspeaker: read ahead on its own thread, silent on a machine without sound.
#pragma once

#include "desk/sample_queue.h"

#include <atomic>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <thread>

namespace ropeline {

class SoundOut {
public:
    SoundOut() = default;
    ~SoundOut() { stop(); }
    SoundOut(const SoundOut&) = delete;
    SoundOut& operator=(const SoundOut&) = delete;

    /// From a time of the film to another, at full speed. A film without sound, or no device, plays silence.
    void play(const std::string& path, double from_s,
              double until_s = std::numeric_limits<double>::infinity());
    void stop();
    bool playing() const { return reader_.joinable(); }
    /// Film time of what is heard now; nothing before the first sample has gone out, or at the end of the
    /// sound.
    std::optional<double> heard_s() const;

private:
    double queued_s() const;
    void read_ahead(const std::stop_token& stop, const std::string& path, double from_s, double until_s);

    SampleQueue<float> queue_;
    std::atomic<double> queued_until_s_{0.0};
    std::atomic<bool> sounding_{false};
    std::jthread reader_; // last: it uses the others until it is joined
};

} // namespace ropeline
