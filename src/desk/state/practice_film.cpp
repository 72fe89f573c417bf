#include "desk/state/practice_film.h"

#include <exception>
#include <utility>

namespace ropeline {

namespace {

/// Ends the making from inside; nobody is told.
struct Stopped {};

} // namespace

PracticeFilm::PracticeFilm(std::filesystem::path folder, MakeFilm make)
    : folder_(std::move(folder)),
      thread_([this, making = std::move(make)](const std::stop_token& stop) { run(stop, making); }) {}

void PracticeFilm::run(const std::stop_token& stop, const MakeFilm& make) {
    try {
        if (!std::filesystem::exists(folder_ / "end_zone.mp4")) {
            make(folder_, [&](int per_cent) {
                if (stop.stop_requested()) throw Stopped{};
                per_cent_ = per_cent;
            });
        }
    } catch (const Stopped&) {
        error_ = "The practice film was not finished.";
    } catch (const std::exception& failure) {
        error_ = failure.what();
    }
    done_ = true;
}

} // namespace ropeline
