// What a film's sound says: how loud it is, and whether a whistle is blown. Pure.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace ropeline {

constexpr int hearing_rate_hz = 48000;
constexpr std::size_t hearing_window =
    2048; ///< samples that each Heard looks at, the first of them at its time
constexpr std::size_t hearing_step = 1200; ///< samples from one to the next
constexpr double hearing_step_s = static_cast<double>(hearing_step) / hearing_rate_hz;

struct Heard {
    float loud_db = -120.0F; ///< root mean square, 0 for a full-scale square wave
    float tone = 0.0F; ///< share of what is heard between 1 and 8 kHz that one narrow tone of 2 to 5 kHz has
    float tone_hz = 0.0F;
    bool overtone = false; ///< of a lower one: an instrument's or a horn's
};

/// One for each step for which there is a whole window.
std::vector<Heard> hear(std::span<const float> mono);

} // namespace ropeline
