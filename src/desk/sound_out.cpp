#include "desk/sound_out.h"

#include "film/film_error.h"
#include "film/sound.h"

#include <SDL.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <span>

namespace ropeline {

namespace {

constexpr int device_samples = 1024; // what the device plays while the next block is asked for
constexpr double ahead_s = 0.25;

/// What the device asks for; silence where nothing is left.
void hand_out(void* queue, Uint8* bytes, int count) {
    const std::span<float> samples(reinterpret_cast<float*>(bytes),
                                   static_cast<std::size_t>(count) / sizeof(float));
    const std::size_t taken = static_cast<SampleQueue<float>*>(queue)->take(samples);
    std::ranges::fill(samples.subspan(taken), 0.0F);
}

} // namespace

double SoundOut::queued_s() const {
    return static_cast<double>(queue_.size()) / (FilmSound::channels * FilmSound::rate_hz);
}

void SoundOut::play(const std::string& path, double from_s, double until_s) {
    stop();
    reader_ = std::jthread([this, path, from_s, until_s](const std::stop_token& stop) {
        read_ahead(stop, path, from_s, until_s);
    });
}

void SoundOut::stop() {
    if (!reader_.joinable()) return;
    reader_.request_stop();
    reader_.join();
    reader_ = {};
    sounding_ = false;
}

std::optional<double> SoundOut::heard_s() const {
    if (!sounding_) return std::nullopt;
    const double in_device_s = static_cast<double>(device_samples) / FilmSound::rate_hz;
    return queued_until_s_ - queued_s() - in_device_s;
}

void SoundOut::read_ahead(const std::stop_token& stop, const std::string& path, double from_s,
                          double until_s) {
    if (SDL_WasInit(SDL_INIT_AUDIO) == 0 && SDL_InitSubSystem(SDL_INIT_AUDIO) != 0) return;
    SDL_AudioSpec wanted{};
    wanted.freq = FilmSound::rate_hz;
    wanted.format = AUDIO_F32SYS;
    wanted.channels = FilmSound::channels;
    wanted.samples = device_samples;
    wanted.callback = hand_out;
    wanted.userdata = &queue_;
    queue_.clear();
    const SDL_AudioDeviceID device = SDL_OpenAudioDevice(nullptr, 0, &wanted, nullptr, 0);
    if (device == 0) return;
    try {
        FilmSound sound{path};
        sound.go_to(from_s);
        std::array<float, 2048> block{};
        bool more = true;
        while (more && !stop.stop_requested()) {
            if (queued_s() > ahead_s) {
                std::this_thread::sleep_for(std::chrono::milliseconds(10));
                continue;
            }
            const double left = std::max(0.0, (until_s - sound.next_seconds()) * FilmSound::rate_hz);
            const std::size_t room = block.size() / FilmSound::channels;
            const std::size_t wanted_moments =
                left < static_cast<double>(room) ? static_cast<std::size_t>(left) : room;
            const std::size_t moments =
                sound.read(std::span{block}.first(wanted_moments * FilmSound::channels));
            more = moments == room;
            queue_.put(std::span{block}.first(moments * FilmSound::channels));
            queued_until_s_ = sound.next_seconds();
            if (!sounding_ && queued_s() > 0.1) {
                SDL_PauseAudioDevice(device, 0);
                sounding_ = true;
            }
        }
        SDL_PauseAudioDevice(device, 0);
        while (!stop.stop_requested() && queued_s() > 0.0)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
    } catch (const std::exception&) {
        // no sound to be had: the film plays by the wall's clock
    }
    sounding_ = false;
    SDL_CloseAudioDevice(device);
}

} // namespace ropeline
