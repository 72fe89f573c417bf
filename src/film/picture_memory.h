// Memory for decoded pictures: used again while pictures come and go, and given back to the system when many
// of them are let go at once, so that the cache's limit is a limit on what the program holds. Only for
// src/film.
#pragma once

#include <memory>

#include "film/av.h"

namespace ropeline {

class PictureMemory {
public:
    /// `most_spare`: buffers kept for the next pictures.
    explicit PictureMemory(std::size_t most_spare = 3);
    /// A buffer of at least so many bytes; it may outlive this object. Thread-safe. Null when memory is
    /// short.
    AVBufferRef* get(std::size_t bytes);
    /// Lets a decoder put its pictures here. This object must outlive the codec.
    void serve(AVCodecContext& codec);

private:
    struct Spare;
    std::shared_ptr<Spare> spare_;
};

} // namespace ropeline
