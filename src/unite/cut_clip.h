// A stretch of a film as a film of its own: each of its frames and no other. The pictures are encoded anew, since a film can
// only be cut without that where a key frame is, and the frames before the cut would still be in the file. Without sound:
// what is said beside the ice is nobody's to hand on.
#pragma once

#include "film/film_reader.h"
#include "unite/clip_spans.h"

#include <filesystem>

namespace ropeline {

/// Whether a film of that shape can be cut with its marks staying where they are: both sides are even.
bool can_be_cut(const FilmFacts& facts);

/// Writes the clip; a frame that the film has lost is black.
/// Throws  FilmError, one line.
void cut_clip(FilmReader& film, FrameSpan span, const std::filesystem::path& path);

} // namespace ropeline
