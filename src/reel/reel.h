// The teaching reel: chosen shots in order, each with its run-up, a freeze at every moment with the picture drawn on, then on.
#pragma once

#include "reel/time_line.h"

#include <cstddef>
#include <functional>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

namespace ropeline {

struct ReelError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

struct ReelOptions {
    ReelTiming timing;
    std::string title;               ///< of the first card and of the file; empty: no card of the reel's own
    int width_px = 0, height_px = 0; ///< 0: the first film's, at most 1920 x 1080
    int crf = 20;
    std::string preset = "veryfast"; ///< x264's name for how hard it tries
    int threads = 0;                 ///< of the encoder; 0: what suits the machine
    bool sound = true;               ///< the film's, where it runs at full speed; else silence
    std::string voice;               ///< a recording that is laid over it from its beginning; empty: none
    bool rink_while_running = false; ///< the rink over its ice wherever a fit reaches
    bool beside = false;             ///< two shots beside each other, in pairs as given
    bool draw = true;                ///< the overlay; false: the film alone
    bool words = true;               ///< puck's eye, what and when, verdict and advice beside the overlay
    double larger = 1.0;             ///< lines and letters of the overlay, for a small screen
    bool note = true;                ///< the coach's note among the words
    bool captions = true;            ///< a WebVTT file beside it
};

/// Told now and then how much is done (0..1) and how long the rest will take; false stops the work.
using Going = std::function<bool(double share, double seconds_left)>;

enum class ReelEnd { made, stopped };

/// The indexes of films that were read through already, by their path: a film of many reels is read through once.
using ReadThrough = std::map<std::string, std::vector<std::byte>>;

/// Writes the film and, beside it, NAME.vtt. Blocking; any thread, one at a time a season file's plays.
/// In      plays that are on a film; see without_film().
/// Out     stopped: nothing is left behind, an older file of that name is untouched.
/// Throws  ReelError, FilmError: one line.
ReelEnd make_reel(const std::vector<ShownPlay>& plays, const std::string& path, const ReelOptions& options,
                  const Going& going = {});
ReelEnd make_reel(const std::vector<ShownPlay>& plays, const std::string& path, const ReelOptions& options,
                  const Going& going, ReadThrough& known);

/// Takes out the plays whose film is not there, and says of each why, a line each.
std::vector<std::string> without_film(std::vector<ShownPlay>& plays);

} // namespace ropeline
