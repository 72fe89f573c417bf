#include "reel/reel_sound.h"

#include "film/film_error.h"
#include "film/movie_writer.h"

#include <algorithm>

namespace ropeline {
namespace {

void soften(std::vector<float>& samples) {
    const std::size_t moments = samples.size() / FilmSound::channels,
                      ramp = std::min<std::size_t>(480, moments / 2);
    for (std::size_t i = 0; i < ramp; ++i) {
        const float share = static_cast<float>(i) / static_cast<float>(ramp);
        for (std::size_t channel = 0; channel < FilmSound::channels; ++channel) {
            samples[i * FilmSound::channels + channel] *= share;
            samples[(moments - 1 - i) * FilmSound::channels + channel] *= share;
        }
    }
}

std::int64_t sample_at(std::int64_t ticks) {
    return (ticks * FilmSound::rate_hz + movie_ticks_per_s / 2) / movie_ticks_per_s;
}

} // namespace

ReelSound::ReelSound(const std::vector<ShownPlay>& plays, bool of_film, const std::string& voice)
    : plays_(plays), of_film_(of_film) {
    if (!voice.empty()) voice_.emplace(voice);
}

std::vector<float> ReelSound::of(const ReelPiece& piece, const std::vector<const FrameTable*>& frames) {
    const auto count =
        static_cast<std::size_t>(sample_at(piece.begins + piece.length) - sample_at(piece.begins));
    std::vector<float> samples(count * FilmSound::channels, 0.0F);
    const bool runs = piece.kind == PieceKind::run && piece.shown.size() == 1 && piece.speed == 1.0;
    if (runs && of_film_) {
        const PlayOnScreen& shown = piece.shown.front();
        if (FilmSound* sound = open(plays_[shown.play].film_path.string())) {
            sound->go_to(frames[shown.play]->seconds_of(shown.first));
            sound->read(samples);
            soften(samples);
        }
    }
    if (voice_) lay_voice_over(samples);
    return samples;
}

void ReelSound::lay_voice_over(std::vector<float>& samples) {
    constexpr float film_under_voice = 0.25F; // 12 dB lower: heard, and no strain to follow the voice
    std::vector<float> voice(samples.size(), 0.0F);
    const std::size_t spoken = voice_->read(voice) * FilmSound::channels;
    for (std::size_t i = 0; i < spoken; ++i)
        samples[i] = std::clamp(film_under_voice * samples[i] + voice[i], -1.0F, 1.0F);
}

FilmSound* ReelSound::open(const std::string& path) {
    if (path == path_) return sound_ ? &*sound_ : nullptr;
    path_ = path;
    sound_.reset();
    try {
        sound_.emplace(path);
    } catch (const FilmError&) { // a film without sound is silent
    }
    return sound_ ? &*sound_ : nullptr;
}

} // namespace ropeline
