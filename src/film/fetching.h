// How a frame is got: from the cache, by decoding on from where decoding stands, or from the right entry;
// what is kept of the frames that come out on the way; and what to do when the frame does not come. Only for
// src/film.
#pragma once

#include <functional>
#include <memory>

#include "film/backward_pass.h"
#include "film/decoding.h"
#include "film/picture_cache.h"

namespace ropeline {

enum class Fetched { found, missing, stopped };
enum class Travel { jump, forward, backward };

class Fetcher {
public:
    Fetcher(Decoding decoding, std::shared_ptr<const FilmIndex> index, PictureCache& cache);

    /// Brings a frame into the cache; `centre` is where the coach is.
    /// `stopped` is asked between packets; true ends the work, and a later call goes on where that helps.
    Fetched fetch(FrameIndex frame, FrameIndex centre, Travel travel,
                  const std::function<bool()>& stopped = {});

    /// Of the frames before this one only those are decoded from now on that others lean on.
    void pass_over_to(FrameIndex frame) { decoding_.pass_over_to(frame); }
    /// How many frames before `frame` one pass backward would bring.
    std::int64_t reach_back(FrameIndex frame) const;
    const Decoding& decoding() const { return decoding_; }
    std::int64_t decoded() const { return decoding_.decoded(); } ///< pictures decoded so far, for benchmarks

private:
    struct Plan {
        FrameIndex first_kept{}; ///< what comes out before it is let go
        FrameIndex last{};       ///< the frame the pass is made for
        bool packs = false;      ///< as many as it takes for all of them to fit
        std::size_t room_bytes = 0;
    };
    std::int64_t first_of_sequence(FrameIndex frame) const;
    Plan plan(FrameIndex frame, FrameIndex centre, Travel travel) const;
    BackwardNeeds needs(FrameIndex frame, FrameIndex centre) const;
    void keep(FrameIndex frame, PicturePtr picture);
    bool has_to_be_packed(FrameIndex frame) const;
    void pack_waiting(const Picture* next);
    PicturePtr unpacked(FrameIndex frame);
    Fetched decode(FrameIndex frame, FrameIndex centre, Travel travel, const std::function<bool()>& stopped);

    std::shared_ptr<const FilmIndex> index_;
    Decoding decoding_;
    PictureCache& cache_;
    FrameIndex waiting_frame_{}; // to be packed once the picture after it is there
    PicturePtr waiting_;
    Plan plan_;                 // of the pass that is under way
    double skipped_cost_ = 1.0; // of passing over a frame, with decoding one as 1; guessed from the packets
    // Of one frame, running means; 0: not measured.
    double packing_ms_ = 0.0, unpacking_ms_ = 0.0, decoding_ms_ = 0.0, skipping_ms_ = 0.0;
};

} // namespace ropeline
