#include "follow/carry_ahead.h"

#include "camera/find_rink.h"
#include "film/background.h"
#include "follow/picture_work.h"

#include <fmt/core.h>

#include <algorithm>
#include <cstdlib>
#include <new>
#include <utility>

namespace ropeline {

namespace {

bool is_left_out(const CarryJob& job, const ClickedKey& clicked) {
    return std::ranges::find(job.left_out, clicked.id) != job.left_out.end();
}

/// What can be gone on from at each end of a stretch.
KnownStretch known_of(const KeyFit& key, std::int64_t first_frame, std::span<const CarriedFrame> frames) {
    const auto held = [](const CarriedFrame& frame) { return frame.state == CarryState::held; };
    const auto fit_of = [&](const CarriedFrame& frame) {
        return KeyFit{key.rules, frame.fit, first_frame + (&frame - frames.data())};
    };
    KnownStretch known{first_frame, first_frame + static_cast<std::int64_t>(frames.size()) - 1, {}, {}};
    const auto first = std::ranges::find_if(frames, held);
    if (first == frames.end()) return known;
    known.near_first = fit_of(*first);
    known.near_last = fit_of(*std::find_if(frames.rbegin(), frames.rend(), held));
    return known;
}

/// Both ways from the key.
/// Out     nothing when it was stopped.
std::optional<CarriedKey> carried_along(const std::stop_token& stop, FilmReader& film, const ClickedKey& from,
                                        const CarryStretch& stretch) {
    CarriedKey carried{from.id, stretch.first, {}};
    carried.frames.resize(static_cast<std::size_t>(stretch.last - stretch.first + 1));
    for (const std::int64_t last : {stretch.last, stretch.first}) {
        carry_to(film, from.key, last, [&](std::int64_t frame, const std::optional<CarriedFrame>& one) {
            if (one) carried.frames[static_cast<std::size_t>(frame - stretch.first)] = *one;
            return !stop.stop_requested();
        });
        if (stop.stop_requested()) return std::nullopt;
    }
    return carried;
}

CarryStretch stretch_about(const FrameTable& frames, std::int64_t frame, double either_way_s) {
    const double at_s = frames.seconds_of(FrameIndex{frame});
    return {number(frames.shown_at(at_s - either_way_s)), number(frames.shown_at(at_s + either_way_s))};
}

std::optional<RgbPicture> rgb_if_any(FilmReader& film, std::int64_t frame) {
    try {
        return rgb_of(*film.picture(FrameIndex{frame}), film.facts());
    } catch (const FilmError& error) {
        if (error.fault != FilmFault::damaged) throw;
        return std::nullopt;
    }
}

} // namespace

CarryStretch first_stretch_of(const FrameTable& frames, std::span<const ClickedKey> keys, std::size_t index) {
    const std::int64_t frame = keys[index].key.frame;
    CarryStretch stretch = stretch_about(frames, frame, carry_first_s);
    if (index > 0) stretch.first = std::max(stretch.first, keys[index - 1].key.frame);
    if (index + 1 < keys.size()) stretch.last = std::min(stretch.last, keys[index + 1].key.frame);
    return {std::min(stretch.first, frame), std::max(stretch.last, frame)};
}

CarryStretch whole_stretch_of(const FrameTable& frames, std::span<const ClickedKey> keys, std::size_t index) {
    const std::int64_t frame = keys[index].key.frame;
    CarryStretch stretch{0, frames.count() - 1};
    if (index > 0) stretch.first = (keys[index - 1].key.frame + frame) / 2;
    if (index + 1 < keys.size())
        stretch.last = std::min((keys[index + 1].key.frame + frame) / 2, stretch.last);
    const std::optional<KnownStretch>& known = keys[index].known;
    if (!known) return {std::min(stretch.first, frame), std::max(stretch.last, frame)};
    const bool back = known->near_first.has_value(), on = known->near_last.has_value();
    return {back ? std::min(stretch.first, known->first) : known->first,
            on ? std::max(stretch.last, known->last) : known->last};
}

bool all_carried(const FrameTable& frames, const CarryJob& job) {
    for (std::size_t index = 0; index < job.keys.size(); ++index) {
        const ClickedKey& clicked = job.keys[index];
        if (is_left_out(job, clicked)) continue;
        if (!clicked.known) return false;
        const CarryStretch whole = whole_stretch_of(frames, job.keys, index);
        if (whole.first < clicked.known->first || whole.last > clicked.known->last) return false;
    }
    return true;
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
    std::vector<std::optional<KnownStretch>> known;
    const auto told_if_refused = [&](const ClickedKey& clicked, const auto& work) {
        try {
            work();
        } catch (const std::bad_alloc&) {
            throw;
        } catch (const std::exception& error) {
            const auto* of_film = dynamic_cast<const FilmError*>(&error);
            if (of_film && of_film->fault != FilmFault::damaged) throw;
            const std::lock_guard lock{guard_};
            refused_.push_back({clicked.id, clicked.key.frame, error.what()});
        }
    };
    for (std::size_t index = 0; index < job.keys.size() && !stop.stop_requested(); ++index) {
        const ClickedKey& clicked = job.keys[index];
        known.push_back(clicked.known);
        if (clicked.known || is_left_out(job, clicked)) continue;
        told_if_refused(clicked, [&] { known.back() = carry_first(stop, film, job, index); });
    }
    carry_chances(stop, film, job, known);
    for (std::size_t index = 0; index < job.keys.size() && !stop.stop_requested(); ++index) {
        if (!known[index] || is_left_out(job, job.keys[index])) continue;
        told_if_refused(job.keys[index], [&] { carry_on(stop, film, job, index, *known[index]); });
    }
}

KnownStretch CarryAhead::carry_first(const std::stop_token& stop, FilmReader& film, const CarryJob& job,
                                     std::size_t index) {
    const ClickedKey& clicked = job.keys[index];
    const KeyFit& key = clicked.key;
    if (key.frame < 0 || key.frame >= film.frames().count())
        throw FilmError(FilmFault::damaged, fmt::format("the film has no frame {}; fit another", key.frame));
    const CarryStretch stretch = first_stretch_of(film.frames(), job.keys, index);
    std::optional<CarriedKey> carried = carried_along(stop, film, clicked, stretch);
    if (!carried) return {};
    KnownStretch known = known_of(key, stretch.first, carried->frames);
    done(*std::move(carried));
    return known;
}

void CarryAhead::carry_chances(const std::stop_token& stop, FilmReader& film, const CarryJob& job,
                               std::span<const std::optional<KnownStretch>> known) {
    std::vector<const ClickedKey*> keys; // those that could be carried
    std::vector<RinkFit> fits;
    std::vector<CarryStretch> done_with;
    for (std::size_t index = 0; index < known.size(); ++index) {
        if (!known[index] || is_left_out(job, job.keys[index])) continue;
        keys.push_back(&job.keys[index]);
        fits.push_back(job.keys[index].key.fit);
        done_with.push_back({known[index]->first, known[index]->last});
    }
    for (const std::int64_t chance : job.chances) {
        if (keys.empty() || stop.stop_requested()) return;
        const auto has_chance = [&](const CarryStretch& one) {
            return one.first <= chance && chance <= one.last;
        };
        if (chance < 0 || chance >= film.frames().count() || std::ranges::any_of(done_with, has_chance))
            continue;
        const std::optional<RgbPicture> picture = rgb_if_any(film, chance);
        const auto found =
            picture ? find_rink(fits, rule_book(keys.front()->key.rules), view_of(*picture)) : std::nullopt;
        if (!found) continue;
        const ClickedKey& by = *keys[found->fit];
        CarryStretch about = stretch_about(film.frames(), chance, carry_chance_s);
        for (const CarryStretch& other : done_with) { // no frame twice
            if (other.last < chance) about.first = std::max(about.first, other.last + 1);
            if (other.first > chance) about.last = std::min(about.last, other.first - 1);
        }
        std::optional<CarriedKey> carried =
            carried_along(stop, film, {by.id, {by.key.rules, found->frame.fit, chance}}, about);
        if (!carried) return;
        done_with.push_back(about);
        done(*std::move(carried));
    }
}

void CarryAhead::carry_on(const std::stop_token& stop, FilmReader& film, const CarryJob& job,
                          std::size_t index, const KnownStretch& known) {
    const FrameTable& frames = film.frames();
    const CarryStretch whole = whole_stretch_of(frames, job.keys, index);
    std::optional<CarryWalk> on, back;
    if (known.near_last && whole.last > known.last) on.emplace(*known.near_last, known.last + 1, 1);
    if (known.near_first && whole.first < known.first) back.emplace(*known.near_first, known.first - 1, -1);
    const auto go_a_stretch = [&](std::optional<CarryWalk>& walk, std::int64_t end, int direction) {
        if (!walk || stop.stop_requested()) return;
        const std::int64_t from = walk->next();
        const double until_s = frames.seconds_of(FrameIndex{from}) + direction * carry_stretch_s;
        const std::int64_t shown = number(frames.shown_at(until_s));
        const std::int64_t last = direction > 0 ? std::clamp(shown, from, end) : std::clamp(shown, end, from);
        CarriedKey carried{job.keys[index].id, std::min(from, last), {}};
        carried.frames.resize(static_cast<std::size_t>(std::abs(last - from) + 1));
        walk->go_to(film, last, Pace::spare_where_lost,
                    [&](std::int64_t frame, const std::optional<CarriedFrame>& one) {
                        if (one) carried.frames[static_cast<std::size_t>(frame - carried.first_frame)] = *one;
                        return !stop.stop_requested();
                    });
        if (stop.stop_requested()) return;
        done(std::move(carried));
        if (last == end) walk.reset();
    };
    while ((on || back) && !stop.stop_requested()) {
        go_a_stretch(on, whole.last, 1);
        go_a_stretch(back, whole.first, -1);
    }
}

void CarryAhead::stop() {
    thread_.request_stop();
    const std::lock_guard lock{guard_};
    stopped_ = true;
    done_.clear();
}

void CarryAhead::done(CarriedKey carried) {
    const std::lock_guard lock{guard_};
    if (!stopped_) done_.push_back(std::move(carried));
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
    return why_it_ended(error_);
}

} // namespace ropeline
