// Looks a film through on a thread of its own while the coach works, from where it was left.
#pragma once

#include "chances/marks.h"

#include <atomic>
#include <cstddef>
#include <exception>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

namespace ropeline {

struct ScanJob {
    std::string film_path;
    std::vector<std::byte> kept_index; ///< so that the film need not be read through again
    FilmMarks known;                   ///< of a scan that was not finished
};

class FilmScan {
public:
    explicit FilmScan(ScanJob job);
    /// Stops within a look.
    ~FilmScan() = default;
    FilmScan(const FilmScan&) = delete;
    FilmScan& operator=(const FilmScan&) = delete;

    /// All marks of the film so far; nothing when none came since the last call.
    std::optional<FilmMarks> take();
    bool finished() const { return finished_; }
    std::string error() const; ///< why it ended before its time, one line; empty when it did not

private:
    void run(const std::stop_token& stop, const ScanJob& job);
    void tell(FilmMarks marks);

    mutable std::mutex guard_;
    std::optional<FilmMarks> found_; // guarded
    std::exception_ptr error_;       // guarded; kept as it is: in its place there may be no memory for words
    std::atomic<bool> finished_{false};
    std::jthread thread_; // last: it uses the others until it is joined
};

} // namespace ropeline
