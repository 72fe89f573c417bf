// Carries the clicked fits of a film on a thread of its own while the coach works: each as far as its
// neighbours, and no farther than some seconds, the frames next to the clicks first.
#pragma once

#include "follow/carry_walk.h"

#include <atomic>
#include <exception>
#include <mutex>
#include <span>
#include <string>
#include <thread>
#include <vector>

namespace ropeline {

constexpr double carry_reach_s = 20.0; ///< from a clicked fit, both ways

/// A clicked fit of the film, by the name its owner knows it by.
struct ClickedKey {
    std::string id;
    KeyFit key;
};

struct CarryJob {
    std::string film_path;
    std::vector<std::byte> kept_index;       ///< so that the film need not be read through again
    std::vector<ClickedKey> keys;            ///< every clicked fit of the film, by frame
    std::vector<std::string> carried_before; ///< those among them that need not be carried again
};

/// Where a clicked fit was carried to: one entry a frame, from `first_frame` on, the key frame among them.
struct CarriedKey {
    std::string id;
    std::int64_t first_frame = 0;
    std::vector<CarriedFrame> frames;
};

/// A clicked fit that cannot be carried: no turning camera sees it so, or its frame has no picture.
struct KeyNotCarried {
    std::string id;
    std::int64_t frame = 0;
    std::string why; ///< one line
};

/// The frames that a key is carried over, both ends included.
struct CarryStretch {
    std::int64_t first = 0, last = 0;
};

/// How far a key is carried: to its neighbours, no farther than `carry_reach_s`.
/// In      keys by frame, each a frame of the film.
CarryStretch stretch_of(const FrameTable& frames, std::span<const ClickedKey> keys, std::size_t index);

class CarryAhead {
public:
    explicit CarryAhead(CarryJob job);
    /// Stops within a frame.
    ~CarryAhead() = default;
    CarryAhead(const CarryAhead&) = delete;
    CarryAhead& operator=(const CarryAhead&) = delete;

    /// Fits carried since the last call.
    std::vector<CarriedKey> take_done();
    /// Fits that could not be carried, since the last call; the others went on.
    std::vector<KeyNotCarried> take_refused();
    bool finished() const { return finished_; }
    std::string error() const; ///< why it ended before its time, one line; empty when it did not

private:
    void run(const std::stop_token& stop, const CarryJob& job);
    void carry(const std::stop_token& stop, FilmReader& film, const CarryJob& job, std::size_t index);

    mutable std::mutex guard_;
    std::vector<CarriedKey> done_;       // guarded
    std::vector<KeyNotCarried> refused_; // guarded
    std::exception_ptr error_; // guarded; kept as it is: in its place there may be no memory for words
    std::atomic<bool> finished_{false};
    std::jthread thread_; // last: it uses the others until it is joined
};

} // namespace ropeline
