// Walks a carried fit along a film: decoding and colouring run one frame ahead on another thread.
#pragma once

#include "camera/carry.h"
#include "film/film_error.h"
#include "film/film_reader.h"

#include <functional>
#include <optional>

namespace ropeline {

struct KeyFit {
    RuleBookId rules{};
    RinkFit fit;
    std::int64_t frame = 0;
};

using TellFrame = std::function<bool(std::int64_t, const std::optional<CarriedFrame>&)>;

enum class Pace {
    every_frame,
    spare_where_lost, ///< once lost for a second, some frames only until the camera is found again
};

/// A walk in one direction that can rest and go on.
class CarryWalk {
public:
    /// In      direction: 1 forward, -1 back; `next`: the first frame told of, the key's or one beyond it.
    /// Throws  FitError when the fit is not what a turning camera sees.
    CarryWalk(const KeyFit& key, std::int64_t next, int direction);

    /// As far as `last`, that frame included. `tell` hears of every frame, of nothing where the film has no
    /// picture, and answers whether to go on; frames that were spared are told as lost.
    /// Throws  FilmError when the key frame cannot be decoded.
    void go_to(FilmReader& film, std::int64_t last, Pace pace, const TellFrame& tell);
    std::int64_t next() const { return next_; }

private:
    Carrier carrier_;
    std::int64_t key_frame_, next_;
    int direction_;
    bool begun_ = false;
    std::int64_t lost_ = 0; ///< frames in a row
};

/// Carries from the key frame to `last`, in whichever direction that lies. `tell` hears of every frame, the
/// key frame first (nothing where the film has no picture), and answers whether to go on.
/// Throws  FilmError when the key frame cannot be decoded; FitError when the fit is not what a turning camera
///         sees.
void carry_to(FilmReader& film, const KeyFit& key, std::int64_t last, const TellFrame& tell);

} // namespace ropeline
