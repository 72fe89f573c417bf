#include "desk/state/carry_ahead.h"

#include "desk/state/carry_walk.h"
#include "film/background.h"

#include <algorithm>
#include <utility>

namespace ropeline {

CarryStretch stretch_of(const CarryJob& job, std::size_t key) {
    const std::int64_t frame = job.keys[key].frame;
    const double at_s = job.frames.seconds_of(job.frames.clamp(frame));
    CarryStretch stretch{number(job.frames.shown_at(at_s - carry_reach_s)),
                         number(job.frames.shown_at(at_s + carry_reach_s))};
    if (key > 0) stretch.first = std::max(stretch.first, job.keys[key - 1].frame);
    if (key + 1 < job.keys.size()) stretch.last = std::min(stretch.last, job.keys[key + 1].frame);
    return {std::min(stretch.first, frame), std::max(stretch.last, frame)};
}

CarryAhead::CarryAhead(CarryJob job)
    : thread_([this, work = std::move(job)](const std::stop_token& stop) {
          run(stop, work);
          finished_ = true;
      }) {}

void CarryAhead::run(const std::stop_token& stop, const CarryJob& job) {
    work_in_background(17); // the coach's own frame comes before it
    std::vector<std::size_t> keys;
    std::int64_t steps = 0;
    for (std::size_t key = 0; key < job.keys.size(); ++key) {
        if (std::ranges::find(job.carried_before, job.keys[key].id) != job.carried_before.end()) continue;
        keys.push_back(key);
        const CarryStretch stretch = stretch_of(job, key);
        steps += stretch.last - stretch.first + 1;
    }
    if (keys.empty()) return;
    std::int64_t taken = 0;
    try {
        FilmReader film(job.film_path, {.cache_bytes = std::size_t{96} << 20, .kept_index = job.kept_index});
        for (const std::size_t index : keys) {
            const StoredFit& stored = job.keys[index];
            const CarryStretch stretch = stretch_of(job, index);
            StoredCarry carry{stored.id, stretch.first, {}};
            carry.frames.resize(static_cast<std::size_t>(stretch.last - stretch.first + 1));
            for (const std::int64_t last : {stretch.last, stretch.first}) {
                carry_to(film, {stored.rules, stored.fit, stored.frame}, last,
                         [&](std::int64_t frame, const std::optional<CarriedFrame>& carried) {
                             if (carried)
                                 carry.frames[static_cast<std::size_t>(frame - stretch.first)] = *carried;
                             progress_ = static_cast<double>(++taken) / static_cast<double>(steps + 1);
                             return !stop.stop_requested();
                         });
                if (stop.stop_requested()) return;
            }
            const std::lock_guard lock{guard_};
            done_.push_back(std::move(carry));
        }
    } catch (const std::exception& error) {
        const std::lock_guard lock{guard_};
        error_ = error.what();
    }
}

std::vector<StoredCarry> CarryAhead::take_done() {
    const std::lock_guard lock{guard_};
    return std::exchange(done_, {});
}

std::string CarryAhead::error() const {
    const std::lock_guard lock{guard_};
    return error_;
}

} // namespace ropeline
