// Carries the clicked fits of a film on a thread of its own while the coach works: each as far as its
// neighbours, and no farther than some seconds, the frames next to the clicks first.
#pragma once

#include "film/frame_table.h"
#include "season/records.h"

#include <atomic>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace ropeline {

constexpr double carry_reach_s = 20.0; ///< from a clicked fit, both ways

struct CarryJob {
    std::string film_path;
    std::vector<std::byte> kept_index; ///< so that the film need not be read through again
    FrameTable frames;
    std::vector<StoredFit> keys;    ///< every clicked fit of the film, by frame
    std::vector<Id> carried_before; ///< those among them that need not be carried again
};

/// The frames that a key is carried over, both ends included.
struct CarryStretch {
    std::int64_t first = 0, last = 0;
};
CarryStretch stretch_of(const CarryJob& job, std::size_t key);

class CarryAhead {
public:
    explicit CarryAhead(CarryJob job);
    /// Stops within a frame.
    ~CarryAhead() = default;
    CarryAhead(const CarryAhead&) = delete;
    CarryAhead& operator=(const CarryAhead&) = delete;

    /// Stretches finished since the last call.
    std::vector<StoredCarry> take_done();
    double progress() const { return progress_; } ///< 0 to 1
    bool finished() const { return finished_; }
    std::string error() const; ///< why a fit could not be carried, one line; empty when all went well

private:
    void run(const std::stop_token& stop, const CarryJob& job);

    mutable std::mutex guard_;
    std::vector<StoredCarry> done_; // guarded
    std::string error_;             // guarded
    std::atomic<double> progress_{0.0};
    std::atomic<bool> finished_{false};
    std::jthread thread_; // last: it uses the others until it is joined
};

} // namespace ropeline
