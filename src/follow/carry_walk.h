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

/// Carries from the key frame to `last`, in whichever direction that lies. `tell` hears of every frame, the
/// key frame first (nothing where the film has no picture), and answers whether to go on.
/// Throws  FilmError when the key frame cannot be decoded; FitError when the fit is not what a turning camera
///         sees.
void carry_to(FilmReader& film, const KeyFit& key, std::int64_t last,
              const std::function<bool(std::int64_t, const std::optional<CarriedFrame>&)>& tell);

} // namespace ropeline
