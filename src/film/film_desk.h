// A film for a window: decoded on a thread of its own.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "film/film_reader.h"

namespace ropeline {

/// The desk's film: decodes on its own thread, keeps a bounded cache, never blocks the caller.
class FilmDesk {
public:
    /// Returns at once; open errors arrive through state().
    explicit FilmDesk(std::string path, std::size_t cache_bytes = std::size_t{512} << 20);
    FilmDesk(std::string path, const FilmOptions& options);
    ~FilmDesk();
    FilmDesk(const FilmDesk&) = delete;
    FilmDesk& operator=(const FilmDesk&) = delete;

    enum class State { opening, ready, failed };
    State state() const;
    std::string error() const;                        ///< when failed: one line
    std::shared_ptr<const FilmFacts> facts() const;   ///< with the first picture
    std::shared_ptr<const FrameTable> frames() const; ///< once ready
    /// Asks for a frame; what was asked before and is not decoded yet is dropped. `direction` (-1, 0, +1)
    /// guides prefetch.
    /// `stride`: of a film that runs faster than it was shot, frames from one that is wanted to the next; those in
    /// between are decoded only where others lean on them.
    void want(FrameIndex frame, int direction, std::int64_t stride = 1);
    /// The frame if it is in the cache.
    PicturePtr cached(FrameIndex frame) const;
    /// Why this frame cannot be had (damaged film), or empty.
    std::string missing(FrameIndex frame) const;
    /// The film's first picture; there long before state() is ready, and facts() with it.
    PicturePtr first_picture() const;
    double progress() const;                      ///< of opening, 0 to 1
    std::vector<FilmHole> holes() const;          ///< as FilmReader::holes()
    std::vector<std::byte> index_to_keep() const; ///< once ready, else empty; as FilmReader::index_to_keep()

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

} // namespace ropeline
