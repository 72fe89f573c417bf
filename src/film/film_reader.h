// A film file, and each of its frames exactly: blocking. No libav type leaves this folder.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "film/film_facts.h"
#include "film/picture.h"

namespace ropeline {

struct FilmOptions {
    std::size_t cache_bytes = std::size_t{256} << 20; ///< pictures kept for going back
    int stream = -1;                                  ///< which picture stream, from 0; -1 for the usual one
    int threads = 0;                                  ///< decoder threads; 0 for what suits codec and machine
    /// What index_to_keep() gave when this film was open before; anything else is ignored and the film read
    /// through.
    std::vector<std::byte> kept_index = {};
};

/// Blocking, exact access in any order. One thread at a time.
class FilmReader {
public:
    /// Opens and indexes the file (every packet is read once, nothing is decoded).
    /// Throws FilmError with one line a coach can act on.
    explicit FilmReader(const std::string& path, const FilmOptions& options = {});
    ~FilmReader();
    FilmReader(FilmReader&&) noexcept;
    FilmReader& operator=(FilmReader&&) noexcept;

    const FilmFacts& facts() const;
    const FrameTable& frames() const;
    /// The frame, verified by pts. Throws FilmError::damaged where the film has no such picture.
    PicturePtr picture(FrameIndex frame);
    /// The nearest frame at or before this one whose picture can be had without decoding others first, frame 0
    /// where there is none.
    FrameIndex begins_at(FrameIndex frame) const;
    /// Places where pictures are missing, as far as known: gaps and a cut end at once, damage once it was
    /// met.
    std::vector<FilmHole> holes() const;
    /// The index as bytes, about 8 a frame, to be given back as FilmOptions::kept_index.
    std::vector<std::byte> index_to_keep() const;
    /// Pictures the decoder has put out so far, shown or not: what a benchmark counts.
    std::int64_t decoded() const;

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

} // namespace ropeline
