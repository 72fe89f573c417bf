// The sound of a film, for playing forward at full speed: stereo samples at 48 kHz from any moment on.
// Blocking; one thread at a time, best not the window's.
#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <string>

namespace ropeline {

class FilmSound {
public:
    static constexpr int rate_hz = 48000, channels = 2;

    /// Throws FilmError::not_film when the film has no sound that can be played.
    explicit FilmSound(const std::string& path);
    ~FilmSound();
    FilmSound(FilmSound&&) noexcept;
    FilmSound& operator=(FilmSound&&) noexcept;

    /// Goes to a time of the film, in the stream's own time as FrameTable::seconds_of.
    void go_to(double seconds);
    /// Fills with interleaved samples, -1 to 1, silence where the film has none; returns how many moments
    /// were filled, fewer than asked only at the end of the sound. The first one belongs to the time gone to,
    /// the others follow it.
    std::size_t read(std::span<float> interleaved);
    double next_seconds() const; ///< film time of the sample that read() gives next

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

} // namespace ropeline
