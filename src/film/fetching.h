// How a frame is got: go on from where decoding stands, or begin at the right entry; and what to do when it
// does not come.
#pragma once

#include <functional>
#include <optional>

#include "film/decoding.h"

namespace ropeline {

enum class Fetched { found, missing, stopped };

/// Decodes until `frame` has come out; everything that comes out goes to `sink`.
/// `backward`: only frames up to this one matter, so nothing after it is decoded.
/// `stopped` is asked between packets; true ends the work, and a later call goes on where that helps.
Fetched fetch(Decoding& decoding, const FilmIndex& index, FrameIndex frame, bool backward,
              const Decoding::Sink& sink, const std::function<bool()>& stopped = {});

} // namespace ropeline
