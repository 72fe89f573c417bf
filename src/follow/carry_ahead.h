// Carries the clicked fits of a film on a thread of its own while the coach works: first the frames next to the
// clicks, then those about the likely chances, then outward until all of the film is known.
#pragma once

#include "follow/carry_walk.h"

#include <atomic>
#include <exception>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <thread>
#include <vector>

namespace ropeline {

constexpr double carry_first_s = 20.0;   ///< around every clicked fit, before anything else
constexpr double carry_chance_s = 6.0;   ///< around every likely chance where the rink is found
constexpr double carry_stretch_s = 10.0; ///< then in stretches so long, in turns to both sides

/// Where a clicked fit was carried to before, and what of it can be gone on from.
struct KnownStretch {
    std::int64_t first = 0, last = 0;
    std::optional<KeyFit> near_first, near_last; ///< held, as near to each end as there is one; none: nowhere
};

/// A clicked fit of the film, by the name its owner knows it by.
struct ClickedKey {
    std::string id;
    KeyFit key;
    std::optional<KnownStretch> known = std::nullopt;
};

struct CarryJob {
    std::string film_path;
    std::vector<std::byte> kept_index;      ///< so that the film need not be read through again
    std::vector<ClickedKey> keys;           ///< every clicked fit of the film, by frame
    std::vector<std::string> left_out;      ///< those among them that are not carried
    std::vector<std::int64_t> chances = {}; ///< frames where one is likely and nothing is known of the rink
};

/// A stretch that a clicked fit was carried along: one entry a frame, from `first_frame` on.
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

/// How far a key is carried at first: to its neighbours, no farther than `carry_first_s`.
/// In      keys by frame, each a frame of the film.
CarryStretch first_stretch_of(const FrameTable& frames, std::span<const ClickedKey> keys, std::size_t index);
/// And in the end: half the way to its neighbours, else to the end of the film; what was first and what is known of
/// it counts as carried, and where there is nothing held to go on from there is no way on.
CarryStretch whole_stretch_of(const FrameTable& frames, std::span<const ClickedKey> keys, std::size_t index);
/// Is there anything left to carry?
bool all_carried(const FrameTable& frames, const CarryJob& job);

class CarryAhead {
public:
    explicit CarryAhead(CarryJob job);
    /// Stops within a frame.
    ~CarryAhead() = default;
    /// The same without waiting for it: it is finished() soon, and what it did is not to be had any more.
    void stop();
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
    KnownStretch carry_first(const std::stop_token& stop, FilmReader& film, const CarryJob& job,
                             std::size_t index);
    void carry_chances(const std::stop_token& stop, FilmReader& film, const CarryJob& job,
                       std::span<const std::optional<KnownStretch>> known);
    void carry_on(const std::stop_token& stop, FilmReader& film, const CarryJob& job, std::size_t index,
                  const KnownStretch& known);
    void done(CarriedKey carried);

    mutable std::mutex guard_;
    bool stopped_ = false;               // guarded
    std::vector<CarriedKey> done_;       // guarded
    std::vector<KeyNotCarried> refused_; // guarded
    std::exception_ptr error_; // guarded; kept as it is: in its place there may be no memory for words
    std::atomic<bool> finished_{false};
    std::jthread thread_; // last: it uses the others until it is joined
};

} // namespace ropeline
