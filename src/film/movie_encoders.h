// The two encoders of a movie, opened. Only for src/film.
#pragma once

#include "film/av.h"
#include "film/movie_writer.h"

namespace ropeline {

// Both throw FilmError::cannot_write that names the film `path`.
av::Codec open_picture_encoder(const MovieOptions& options, const std::string& path);
av::Codec open_sound_encoder(const std::string& path);

/// Marks of a chapter in the file about to be written.
void put_chapter(AVFormatContext& output, const MovieChapter& chapter);

} // namespace ropeline
