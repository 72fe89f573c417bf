// A voice recorded over a reel that was made: the reel runs once, silently, while the coach speaks.
#pragma once

#include "desk/film_texture.h"
#include "desk/voice_take.h"
#include "film/film_desk.h"

#include <filesystem>
#include <optional>
#include <string>

namespace ropeline {

struct VoiceOver {
    explicit VoiceOver(const std::filesystem::path& reel) : film(reel.string(), cache_bytes) {}

    static constexpr std::size_t cache_bytes = std::size_t{128} << 20;
    FilmDesk film;
    FilmTexture texture;
    std::optional<FrameIndex> on_screen;
    FrameIndex wanted{};           ///< the picture that is awaited
    std::optional<VoiceTake> take; ///< from the moment the reel can run
    double length_s = 0.0;         ///< of the reel, once it can run
};

/// "reel 2026-11-25.mp4" has "reel 2026-11-25 voice.wav".
std::filesystem::path voice_path(const std::filesystem::path& reel);

} // namespace ropeline
