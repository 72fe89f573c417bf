// The rink of one frame, looked for on a thread of its own by the fits of the film's other frames.
#pragma once

#include "camera/find_rink.h"
#include "film/film_facts.h"
#include "film/picture.h"

#include <atomic>
#include <exception>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

namespace ropeline {

class RinkFinder {
public:
    RinkFinder(PicturePtr picture, FilmFacts facts, std::vector<RinkFit> fits, RuleBookId rules);
    /// Waits for it, a second or so; better let go of once finished().
    ~RinkFinder() = default;
    RinkFinder(const RinkFinder&) = delete;
    RinkFinder& operator=(const RinkFinder&) = delete;

    bool finished() const { return finished_; }
    /// Nothing where it is not clear.
    /// Throws  what ended it before its time.
    std::optional<FoundRink> take();

private:
    std::mutex guard_;
    std::optional<FoundRink> found_; // guarded
    std::exception_ptr error_;       // guarded; kept as it is: in its place there may be no memory for words
    std::atomic<bool> finished_{false};
    std::jthread thread_; // last: it uses the others until it is joined
};

} // namespace ropeline
