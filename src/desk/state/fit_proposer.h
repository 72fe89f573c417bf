// A rink fit from one picture's paint alone, worked out on a thread of its own while the coach clicks.
#pragma once

#include "camera/rink_fit.h"
#include "film/picture.h"

#include <atomic>
#include <exception>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace ropeline {

class FitProposer {
public:
    FitProposer(PicturePtr picture, FilmFacts facts, RuleBookId rules);
    /// Stops within a tenth of a second or so; better asked to stop() before and let go of once finished().
    ~FitProposer() = default;
    FitProposer(const FitProposer&) = delete;
    FitProposer& operator=(const FitProposer&) = delete;

    void stop() { thread_.request_stop(); }
    bool finished() const { return finished_; }
    /// Nothing where the paint does not say it clearly, or when it was stopped.
    std::optional<RinkFit> take();
    std::exception_ptr error() const; ///< why it ended before its time

private:
    mutable std::mutex guard_;
    std::optional<RinkFit> fit_; // guarded
    std::exception_ptr error_;   // guarded; kept as it is: in its place there may be no memory for words
    std::atomic<bool> finished_{false};
    std::jthread thread_; // last: it uses the others until it is joined
};

} // namespace ropeline
