// The microphone while a voice is recorded: what it hears is gathered turn by turn and kept as a sound file.
#pragma once

#include "desk/sample_queue.h"

#include <cstdint>
#include <filesystem>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

class VoiceTake {
public:
    static constexpr int rate_hz = 48000;

    /// Listens from here on.
    /// Throws  std::runtime_error, one line: no microphone can be used.
    VoiceTake();
    ~VoiceTake();
    VoiceTake(const VoiceTake&) = delete;
    VoiceTake& operator=(const VoiceTake&) = delete;

    void gather(); ///< what was heard since the last time
    double seconds() const { return static_cast<double>(samples_.size()) / rate_hz; }
    float level() const; ///< the loudest of the last tenth of a second, 0 to 1
    const std::vector<std::int16_t>& samples() const { return samples_; }

private:
    std::uint32_t device_ = 0; // SDL_AudioDeviceID
    SampleQueue<std::int16_t> heard_;
    std::vector<std::int16_t> samples_;
};

/// A WAV file's bytes, one channel.
/// Source  Microsoft and IBM, Multimedia Programming Interface and Data Specifications 1.0 (1991): RIFF, "fmt " and "data".
std::string wav_of(std::span<const std::int16_t> samples, int rate_hz);

} // namespace ropeline
