// The sound of a reel: the film's own, and a voice over it.
#pragma once

#include "film/sound.h"
#include "reel/shown_play.h"
#include "reel/time_line.h"

#include <optional>
#include <string>
#include <vector>

namespace ropeline {

/// Piece after piece, in their order.
class ReelSound {
public:
    /// In      `voice`: a recording; empty: none.
    /// Throws  FilmError for a voice that cannot be played.
    ReelSound(const std::vector<ShownPlay>& plays, bool of_film, const std::string& voice);

    /// The film's where it runs at full speed by itself, else silence, its ends softened so that nothing clicks; under the voice
    /// it is low.
    std::vector<float> of(const ReelPiece& piece, const std::vector<const FrameTable*>& frames);

private:
    FilmSound* open(const std::string& path);
    void lay_voice_over(std::vector<float>& samples);

    const std::vector<ShownPlay>& plays_;
    bool of_film_;
    std::optional<FilmSound> voice_;
    std::string path_; ///< of the film's sound
    std::optional<FilmSound> sound_;
};

} // namespace ropeline
