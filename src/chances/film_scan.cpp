#include "chances/film_scan.h"

#include "chances/film_looker.h"
#include "chances/joined_marks.h"
#include "film/background.h"

#include <algorithm>
#include <utility>

namespace ropeline {

namespace {

constexpr double run_in_s = 60.0;  ///< looked at once more where a scan goes on: what is usual there
constexpr double settled_s = 12.0; ///< what comes may still change what was found so long before
constexpr double first_told_s = 20.0;

} // namespace

FilmScan::FilmScan(ScanJob job)
    : thread_([this, work = std::move(job)](const std::stop_token& stop) {
          try {
              run(stop, work);
          } catch (...) {
              const std::lock_guard lock{guard_};
              error_ = std::current_exception();
          }
          finished_ = true;
      }) {}

void FilmScan::run(const std::stop_token& stop, const ScanJob& job) {
    work_in_background(15); // the coach's own frame and what follows the rink from it come before it
    if (job.known.whole) return;
    const bool begun = job.known.until_s > 0.0;
    FilmLooker film(job.film_path, job.kept_index, begun ? job.known.until_s - run_in_s : -1e9);
    const double seam_s = begun ? job.known.until_s : -1e9;
    double next_told_s = std::max(seam_s, film.film_first_s()) + first_told_s;
    const auto found = [&] {
        return joined(job.known, marks_of(film.looks(), film.heard(), film.heard_from_s()), seam_s);
    };
    while (film.look()) {
        if (stop.stop_requested()) return;
        const double now_s = film.looks().back().at_s;
        if (now_s < next_told_s) continue;
        film.listen_to(now_s, stop);
        tell(cut_at(found(), now_s - settled_s));
        // Each time all of it is gone over again, so it is done less and less often.
        next_told_s = now_s + std::max(first_told_s, 0.1 * (now_s - film.film_first_s()));
    }
    film.listen_to(film.film_last_s(), stop);
    if (stop.stop_requested()) return;
    FilmMarks all = found();
    all.until_s = film.film_last_s();
    all.whole = true;
    tell(std::move(all));
}

void FilmScan::tell(FilmMarks marks) {
    const std::lock_guard lock{guard_};
    found_ = std::move(marks);
}

std::optional<FilmMarks> FilmScan::take() {
    const std::lock_guard lock{guard_};
    return std::exchange(found_, std::nullopt);
}

std::string FilmScan::error() const {
    const std::lock_guard lock{guard_};
    return why_it_ended(error_);
}

} // namespace ropeline
