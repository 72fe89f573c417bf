// A film seen every so often, in a fraction of its length: pictures that no other leans on are not decoded, and where
// decoding may begin anywhere all but the wanted ones are left out. Blocking; one thread at a time. (The filter over
// the edges of blocks is not spared: without it colours drift from one key picture to the next, and false nets come.)
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "film/film_facts.h"
#include "film/picture.h"

namespace ropeline {

class FilmSkim {
public:
    /// In      kept_index as FilmOptions::kept_index; step_s: film time from one picture to the next, at least;
    ///         most_px: to be decoded for a second of film. Of a film that would take more only the beginning of
    ///         each sequence is decoded, its first picture at least, and the rest of it passed over.
    /// Throws  FilmError with one line a coach can act on.
    FilmSkim(const std::string& path, std::vector<std::byte> kept_index, double step_s,
             double most_px = usual_most_px);
    /// Two cores decode so much of H.264 in less than a tenth of a second (1920x1080: 160 pictures a second
    /// measured on two cores of a virtual machine).
    static constexpr double usual_most_px = 20e6;
    ~FilmSkim();
    FilmSkim(FilmSkim&&) noexcept;
    FilmSkim& operator=(FilmSkim&&) noexcept;

    const FilmFacts& facts() const;
    const FrameTable& frames() const;
    struct Seen {
        FrameIndex frame{};
        PicturePtr picture;
    };
    /// The picture after it is that of this time or of soon after.
    void go_to(double seconds);
    /// The next one, as near to a step on as comes cheaply; nothing at the end. Places that cannot be decoded are
    /// passed over.
    std::optional<Seen> next();
    std::int64_t decoded() const; ///< pictures so far, handed on or not: what a benchmark counts

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

} // namespace ropeline
