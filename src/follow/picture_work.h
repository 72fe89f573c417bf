// What is worked out from one picture of a film, on a thread of its own.
#pragma once

#include "camera/picture_view.h"
#include "film/background.h"
#include "film/film_facts.h"
#include "film/picture.h"
#include "film/rgb.h"

#include <atomic>
#include <exception>
#include <functional>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <utility>

namespace ropeline {

inline PictureView view_of(const RgbPicture& picture) {
    return {picture.bytes.data(), picture.width_px, picture.height_px, 3 * picture.width_px};
}

template <class Result>
class PictureWork {
public:
    using Work = std::function<std::optional<Result>(const PictureView&, const std::stop_token&)>;

    /// In      how far the thread gives way to the window, see film/background.h.
    PictureWork(PicturePtr picture, FilmFacts facts, int niceness, Work work)
        : thread_([this, picture = std::move(picture), facts = std::move(facts), niceness,
                   work = std::move(work)](const std::stop_token& stop) {
              work_in_background(niceness);
              try {
                  const RgbPicture rgb = rgb_of(*picture, facts);
                  auto result = work(view_of(rgb), stop);
                  const std::lock_guard lock(guard_);
                  result_ = std::move(result);
              } catch (...) {
                  const std::lock_guard lock(guard_);
                  error_ = std::current_exception();
              }
              finished_ = true;
          }) {}
    /// Waits for the work; better asked to stop() before, and let go of once finished().
    ~PictureWork() = default;
    PictureWork(const PictureWork&) = delete;
    PictureWork& operator=(const PictureWork&) = delete;

    void stop() { thread_.request_stop(); }
    bool finished() const { return finished_; }
    /// Nothing where the picture does not say it clearly, or when it was stopped.
    std::optional<Result> take() {
        const std::lock_guard lock(guard_);
        return std::exchange(result_, std::nullopt);
    }
    std::exception_ptr error() const { ///< why it ended before its time
        const std::lock_guard lock(guard_);
        return error_;
    }

private:
    mutable std::mutex guard_;
    std::optional<Result> result_; // guarded
    std::exception_ptr error_;     // guarded; kept as it is: in its place there may be no memory for words
    std::atomic<bool> finished_{false};
    std::jthread thread_; // last: it uses the others until it is joined
};

} // namespace ropeline
