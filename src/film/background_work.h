// Work on a thread of its own: its result, or what went wrong, is fetched when it is finished.
#pragma once

#include "film/background.h"

#include <atomic>
#include <exception>
#include <functional>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <utility>

namespace ropeline {

/// How far it got, and whether it is still wanted; the work looks and tells.
struct WorkOnItsWay {
    std::stop_token stop;
    std::function<void(double)> report; ///< share done
};

template <class Result>
class BackgroundWork {
public:
    /// In      niceness: how far the thread gives way to the window, see film/background.h; work: out nothing when it
    ///         was stopped.
    BackgroundWork(int niceness, std::function<std::optional<Result>(const WorkOnItsWay&)> work)
        : thread_([this, niceness, work = std::move(work)](const std::stop_token& stop) {
              work_in_background(niceness);
              try {
                  auto result = work({stop, [this](double share) { share_ = share; }});
                  const std::lock_guard lock(guard_);
                  result_ = std::move(result);
              } catch (...) {
                  const std::lock_guard lock(guard_);
                  error_ = std::current_exception();
              }
              finished_ = true;
          }) {}
    /// Waits for the work; better asked to stop() before, and let go of once finished().
    ~BackgroundWork() = default;
    BackgroundWork(const BackgroundWork&) = delete;
    BackgroundWork& operator=(const BackgroundWork&) = delete;

    void stop() { thread_.request_stop(); }
    bool finished() const { return finished_; }
    double share() const { return share_; }
    /// What it came to; nothing when it was stopped.
    /// Throws  what ended it before its time
    std::optional<Result> take() {
        const std::lock_guard lock(guard_);
        if (error_) std::rethrow_exception(std::exchange(error_, nullptr));
        return std::exchange(result_, std::nullopt);
    }

private:
    std::mutex guard_;
    std::optional<Result> result_; // guarded
    std::exception_ptr error_;     // guarded
    std::atomic<double> share_{0.0};
    std::atomic<bool> finished_{false};
    std::jthread thread_; // last: it uses the others until it is joined
};

} // namespace ropeline
