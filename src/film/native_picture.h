// From a decoded libav frame to a Picture, sharing the memory. Only for src/film.
#pragma once

#include "film/av.h"
#include "film/picture.h"

namespace ropeline {

/// Takes over the frame's planes. Formats no screen shader knows are converted to packed RGB for show; md5()
/// stays native.
PicturePtr picture_from(AVFrame& frame, Pts pts);

} // namespace ropeline
