// The encoders of the films that are written. Only for src/film.
#pragma once

#include "film/av.h"
#include "film/movie_writer.h"

namespace ropeline {

// All throw FilmError::cannot_write that names the film `path`.
/// Of 4:2:0 pictures, BT.709 in video range, for MP4; not opened yet.
av::Codec h264_encoder(int width_px, int height_px, const std::string& path);
/// `wishes`: what libav keeps no member for.
void open_with(AVCodecContext& encoder, av::Options& wishes, const std::string& path);

/// The two of a movie, opened.
av::Codec open_picture_encoder(const MovieOptions& options, const std::string& path);
av::Codec open_sound_encoder(const std::string& path);

/// Marks of a chapter in the file about to be written.
void put_chapter(AVFormatContext& output, const MovieChapter& chapter);

} // namespace ropeline
