// The words of a reel as WebVTT, for who cannot hear or wants to read on.
#pragma once

#include <cstdint>
#include <span>
#include <string>

namespace ropeline {

struct Caption {
    std::int64_t begins = 0, ends = 0; ///< ticks of 1/90000 s
    std::string text;                  ///< plain; lines apart by '\n'
};

/// Any text is safe: & < > are escaped, so that no cue ends early and no tag begins.
/// Source  W3C WebVTT, sections 4.1 and 4.2.2.
std::string web_vtt(std::span<const Caption> captions);

} // namespace ropeline
