#include "follow/carry_ahead.h"

#include "film/background.h"

#include <fmt/core.h>

#include <algorithm>
#include <new>
#include <utility>

namespace ropeline {

CarryStretch stretch_of(const FrameTable& frames, std::span<const ClickedKey> keys, std::size_t index) {
    const std::int64_t frame = keys[index].key.frame;
    const double at_s = frames.seconds_of(FrameIndex{frame});
    CarryStretch stretch{number(frames.shown_at(at_s - carry_reach_s)),
                         number(frames.shown_at(at_s + carry_reach_s))};
    if (index > 0) stretch.first = std::max(stretch.first, keys[index - 1].key.frame);
    if (index + 1 < keys.size()) stretch.last = std::min(stretch.last, keys[index + 1].key.frame);
    return {std::min(stretch.first, frame), std::max(stretch.last, frame)};
}

CarryAhead::CarryAhead(CarryJob job)
    : thread_([this, work = std::move(job)](const std::stop_token& stop) {
          try {
              run(stop, work);
          } catch (...) {
              const std::lock_guard lock{guard_};
              error_ = std::current_exception();
          }
          finished_ = true;
      }) {}

void CarryAhead::run(const std::stop_token& stop, const CarryJob& job) {
    work_in_background(17); // the coach's own frame comes before it
    FilmReader film(job.film_path, {.cache_bytes = std::size_t{96} << 20, .kept_index = job.kept_index});
    for (std::size_t index = 0; index < job.keys.size() && !stop.stop_requested(); ++index) {
        const ClickedKey& clicked = job.keys[index];
        if (std::ranges::find(job.carried_before, clicked.id) != job.carried_before.end()) continue;
        try {
            carry(stop, film, job, index);
        } catch (const std::bad_alloc&) {
            throw;
        } catch (const std::exception& error) {
            const auto* of_film = dynamic_cast<const FilmError*>(&error);
            if (of_film && of_film->fault != FilmFault::damaged) throw;
            const std::lock_guard lock{guard_};
            refused_.push_back({clicked.id, clicked.key.frame, error.what()});
        }
    }
}

void CarryAhead::carry(const std::stop_token& stop, FilmReader& film, const CarryJob& job,
                       std::size_t index) {
    const auto& [id, key] = job.keys[index];
    if (key.frame < 0 || key.frame >= film.frames().count())
        throw FilmError(FilmFault::damaged, fmt::format("the film has no frame {}; fit another", key.frame));
    const CarryStretch stretch = stretch_of(film.frames(), job.keys, index);
    CarriedKey carried{id, stretch.first, {}};
    carried.frames.resize(static_cast<std::size_t>(stretch.last - stretch.first + 1));
    for (const std::int64_t last : {stretch.last, stretch.first}) {
        carry_to(film, key, last, [&](std::int64_t frame, const std::optional<CarriedFrame>& one) {
            if (one) carried.frames[static_cast<std::size_t>(frame - stretch.first)] = *one;
            return !stop.stop_requested();
        });
        if (stop.stop_requested()) return;
    }
    const std::lock_guard lock{guard_};
    done_.push_back(std::move(carried));
}

std::vector<CarriedKey> CarryAhead::take_done() {
    const std::lock_guard lock{guard_};
    return std::exchange(done_, {});
}

std::vector<KeyNotCarried> CarryAhead::take_refused() {
    const std::lock_guard lock{guard_};
    return std::exchange(refused_, {});
}

std::string CarryAhead::error() const {
    const std::lock_guard lock{guard_};
    if (!error_) return {};
    try {
        std::rethrow_exception(error_);
    } catch (const std::bad_alloc&) {
        return "there is no memory left for it; close other programs";
    } catch (const std::exception& error) {
        return error.what();
    } catch (...) {
        return "for no known reason";
    }
}

} // namespace ropeline
