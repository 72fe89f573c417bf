// One moment of the film with the overlay, as a picture for a note, a message or a printed page.
#pragma once

#include "reel/shown_play.h"

#include <string>

namespace ropeline {

enum class StillKind { png, svg };

struct StillOptions {
    bool overlay = true;
    bool words = true; ///< puck's eye, what and when, verdict and advice
    bool note = true;
    int width_px = 0; ///< 0: as wide as the film
};

/// The file's bytes. In SVG the film is a picture inside, and all that is drawn on it stays lines and outlines of letters, so that
/// it is sharp at any size and reads the same where a font is missing.
/// Throws  FilmError where the film has no such picture, std::bad_alloc.
std::string still_of(const ShownPlay& play, const ShownMoment& shown, StillKind kind,
                     const StillOptions& options = {});

} // namespace ropeline
