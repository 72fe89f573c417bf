// The film that a newcomer learns on, rendered on a thread of its own.
#pragma once

#include <atomic>
#include <filesystem>
#include <functional>
#include <string>
#include <thread>

namespace ropeline {

/// Makes end_zone.mp4 in the folder; is to call the function with the share done, in per cent, again and again, and
/// to let through what that throws.
using MakeFilm = std::function<void(const std::filesystem::path&, const std::function<void(int)>&)>;

class PracticeFilm {
public:
    /// Begins at once; nothing is made where the film is there already.
    PracticeFilm(std::filesystem::path folder, MakeFilm make);
    /// Stops at the next share that is told, and waits for that.
    ~PracticeFilm() = default;
    PracticeFilm(const PracticeFilm&) = delete;
    PracticeFilm& operator=(const PracticeFilm&) = delete;

    const std::filesystem::path& folder() const { return folder_; }
    int per_cent() const { return per_cent_; }
    bool done() const { return done_; }
    const std::string& error() const { return error_; } ///< once done: one line; empty when all went well

private:
    void run(const std::stop_token& stop, const MakeFilm& make);

    std::filesystem::path folder_;
    std::atomic<int> per_cent_{0};
    std::atomic<bool> done_{false};
    std::string error_;   // written before done_
    std::jthread thread_; // last: it uses the others until it is joined
};

} // namespace ropeline
