#include "desk/voice_take.h"

#include <SDL.h>
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <stdexcept>

namespace ropeline {

namespace {

[[noreturn]] void no_microphone() {
    throw std::runtime_error(
        fmt::format("No microphone can be used ({}): plug one in, then record again.", SDL_GetError()));
}

void put_bytes(std::string& bytes, std::uint32_t value, int count) {
    for (int byte = 0; byte < count; ++byte)
        bytes += static_cast<char>(value >> (8 * byte) & 0xFFU);
}

void take_in(void* heard, Uint8* bytes, int count) {
    static_cast<SampleQueue<std::int16_t>*>(heard)->put(
        {reinterpret_cast<const std::int16_t*>(bytes),
         static_cast<std::size_t>(count) / sizeof(std::int16_t)});
}

} // namespace

VoiceTake::VoiceTake() {
    if (SDL_WasInit(SDL_INIT_AUDIO) == 0 && SDL_InitSubSystem(SDL_INIT_AUDIO) != 0) no_microphone();
    SDL_AudioSpec wanted{};
    wanted.freq = rate_hz;
    wanted.format = AUDIO_S16SYS;
    wanted.channels = 1;
    wanted.samples = 1024;
    wanted.callback = take_in;
    wanted.userdata = &heard_;
    constexpr int to_record = 1;
    device_ = SDL_OpenAudioDevice(nullptr, to_record, &wanted, nullptr, 0);
    if (device_ == 0) no_microphone();
    SDL_PauseAudioDevice(device_, 0);
}

VoiceTake::~VoiceTake() {
    SDL_CloseAudioDevice(device_);
}

void VoiceTake::gather() {
    std::array<std::int16_t, 4096> heard{};
    while (const std::size_t count = heard_.take(heard))
        samples_.insert(samples_.end(), heard.begin(), heard.begin() + static_cast<std::ptrdiff_t>(count));
}

float VoiceTake::level() const {
    const std::size_t last = std::min<std::size_t>(samples_.size(), rate_hz / 10);
    int loudest = 0;
    for (auto sample = samples_.end() - static_cast<std::ptrdiff_t>(last); sample != samples_.end(); ++sample)
        loudest = std::max(loudest, std::abs(int{*sample}));
    return std::min(1.0F, static_cast<float>(loudest) / 32767.0F);
}

std::string wav_of(std::span<const std::int16_t> samples, int rate_hz) {
    constexpr int sample_bytes = 2;
    const auto data = static_cast<std::uint32_t>(samples.size() * sample_bytes);
    const auto rate = static_cast<std::uint32_t>(rate_hz);
    std::string bytes = "RIFF";
    put_bytes(bytes, 36 + data, 4);
    bytes += "WAVEfmt ";
    put_bytes(bytes, 16, 4); // what follows of the format
    put_bytes(bytes, 1, 2);  // plain samples
    put_bytes(bytes, 1, 2);  // channels
    put_bytes(bytes, rate, 4);
    put_bytes(bytes, rate * sample_bytes, 4);
    put_bytes(bytes, sample_bytes, 2);
    put_bytes(bytes, 8 * sample_bytes, 2);
    bytes += "data";
    put_bytes(bytes, data, 4);
    for (const std::int16_t sample : samples)
        put_bytes(bytes, static_cast<std::uint16_t>(sample), sample_bytes);
    return bytes;
}

} // namespace ropeline
