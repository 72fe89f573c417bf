// Samples on their way to a sound device or from it. SDL's own queue runs the device's thread on a stack of 64 KB, most of
// which the thread-local memory of the libraries here takes: where it takes all, no device can be opened.
#pragma once

#include <algorithm>
#include <cstddef>
#include <deque>
#include <mutex>
#include <span>

namespace ropeline {

/// Any thread.
template <class Sample>
class SampleQueue {
public:
    void put(std::span<const Sample> samples) {
        const std::lock_guard lock(guard_);
        samples_.insert(samples_.end(), samples.begin(), samples.end());
    }
    /// Out     how many there were; the rest of `into` is left as it was.
    std::size_t take(std::span<Sample> into) {
        const std::lock_guard lock(guard_);
        const auto last =
            samples_.begin() + static_cast<std::ptrdiff_t>(std::min(samples_.size(), into.size()));
        const auto count = static_cast<std::size_t>(last - samples_.begin());
        std::copy(samples_.begin(), last, into.begin());
        samples_.erase(samples_.begin(), last);
        return count;
    }
    std::size_t size() const {
        const std::lock_guard lock(guard_);
        return samples_.size();
    }
    void clear() {
        const std::lock_guard lock(guard_);
        samples_.clear();
    }

private:
    mutable std::mutex guard_;
    std::deque<Sample> samples_; // guarded
};

} // namespace ropeline
