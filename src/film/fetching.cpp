#include "film/fetching.h"

#include <algorithm>
#include <chrono>
#include <ctime>
#include <utility>

namespace ropeline {

namespace {

std::size_t at(std::int64_t i) {
    return static_cast<std::size_t>(i);
}

// The last packet needed for this frame and all that are shown before it.
std::int32_t last_packet_for(const FilmIndex& index, FrameIndex frame) {
    std::int32_t last = 0;
    for (std::int64_t i = std::max<std::int64_t>(0, number(frame) - index.reorder); i <= number(frame); ++i) {
        last = std::max(last, index.packet_of_frame[at(i)]);
    }
    return last;
}

class Stopwatch {
public:
    double ms() const {
        return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start_).count();
    }

private:
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

/// Time this thread has worked; that of a wall would count the decoder's threads against it.
double worked_ms() {
    timespec time{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
    return static_cast<double>(time.tv_sec) * 1e3 + static_cast<double>(time.tv_nsec) / 1e6;
}

void blend(double& mean, double sample) {
    mean = mean == 0.0 ? sample : mean + (sample - mean) / 32;
}

} // namespace

Fetcher::Fetcher(Decoding decoding, std::shared_ptr<const FilmIndex> index, PictureCache& cache)
    : index_(std::move(index)), decoding_(std::move(decoding)), cache_(cache) {
    // Passing over a sequence leaves out what no picture leans on. Decoding costs by the picture and by the
    // bit, about evenly.
    double pictures = 0.0, bytes = 0.0, needed_pictures = 0.0, needed_bytes = 0.0;
    for (const PacketNote& note : index_->packets) {
        pictures += 1.0;
        bytes += note.size;
        if (note.disposable) continue;
        needed_pictures += 1.0;
        needed_bytes += note.size;
    }
    if (pictures > 0.0 && bytes > 0.0)
        skipped_cost_ = (needed_pictures / pictures + needed_bytes / bytes) / 2.0;
}

std::int64_t Fetcher::first_of_sequence(FrameIndex frame) const {
    std::int64_t first = number(frame);
    const std::int32_t entry = index_->entry_of_frame[at(first)];
    while (first > 0 && index_->entry_of_frame[at(first - 1)] == entry)
        --first;
    return first;
}

BackwardNeeds Fetcher::needs(FrameIndex frame, FrameIndex centre) const {
    BackwardNeeds needs;
    needs.frames = number(frame) - first_of_sequence(frame) + 1;
    needs.picture_bytes = cache_.picture_bytes();
    needs.packed_bytes = cache_.packed_bytes();
    if (needs.packed_bytes == 0 && packing_ms_ == 0.0)
        needs.packed_bytes = needs.picture_bytes / 3; // not tried yet
    const std::size_t held =
        cache_.bytes_between(FrameIndex{number(frame) + 1}, centre) + 2 * needs.picture_bytes;
    const std::size_t room = cache_.room_bytes();
    needs.room_bytes = room > held ? room - held : needs.picture_bytes;
    needs.skipped_cost =
        skipping_ms_ > 0.0 && decoding_ms_ > 0.0 ? skipping_ms_ / decoding_ms_ : skipped_cost_;
    // Packing takes one core while the decoder's threads have the others.
    if (packing_ms_ > 0.0 && decoding_ms_ > 0.0)
        needs.packing_cost = (packing_ms_ / decoding_.threads() + unpacking_ms_) / decoding_ms_;
    return needs;
}

std::int64_t Fetcher::reach_back(FrameIndex frame) const {
    return backward_pass_for(needs(frame, frame)).kept;
}

Fetcher::Plan Fetcher::plan(FrameIndex frame, FrameIndex centre, Travel travel) const {
    const BackwardNeeds all = needs(frame, centre);
    BackwardPass pass = backward_pass_for(all);
    // Others before it would cost a jump half as much again; the first step back brings them.
    if (travel != Travel::backward) pass.kept = 1;
    return {FrameIndex{number(frame) - pass.kept + 1}, frame,
            travel == Travel::backward && pass.as_is < pass.kept, all.room_bytes};
}

// Pictures pack to very different sizes, so each is asked for anew: would this one and all that come after it
// fit as they are? The last few are wanted at once.
bool Fetcher::has_to_be_packed(FrameIndex frame) const {
    const std::int64_t left = number(plan_.last) - number(frame) + 1;
    if (!plan_.packs || left <= ready_pictures) return false;
    const std::size_t used =
        cache_.bytes_between(plan_.first_kept, FrameIndex{number(frame) - 1}) + cache_.picture_bytes();
    return used + static_cast<std::size_t>(left) * cache_.picture_bytes() > plan_.room_bytes;
}

void Fetcher::pack_waiting(const Picture* next) {
    const PicturePtr picture = std::exchange(waiting_, nullptr);
    if (!picture) return;
    const double before = worked_ms();
    if (PackedPtr packed = pack(*picture, next)) {
        blend(packing_ms_, worked_ms() - before);
        cache_.put(waiting_frame_, std::move(packed));
    } else {
        packing_ms_ = 1e9; // not to be had with this film: never worth it
        cache_.put(waiting_frame_, picture);
    }
}

void Fetcher::keep(FrameIndex frame, PicturePtr picture) {
    if (frame < plan_.first_kept) return;
    pack_waiting(number(waiting_frame_) + 1 == number(frame) ? picture.get() : nullptr);
    if (has_to_be_packed(frame)) {
        waiting_frame_ = frame;
        waiting_ = std::move(picture);
    } else {
        cache_.put(frame, std::move(picture));
    }
}

// Going backward the picture after it was shown a moment ago; after a jump the chain is followed up to one
// that is there.
PicturePtr Fetcher::unpacked(FrameIndex frame) {
    std::vector<PackedPtr> chain;
    PicturePtr picture;
    for (std::int64_t i = number(frame); !picture; ++i) {
        PackedPtr packed = cache_.find_packed(FrameIndex{i});
        if (!packed) {
            picture = cache_.find(FrameIndex{i});
            if (!picture) return nullptr;
            break;
        }
        chain.push_back(std::move(packed));
        if (!chain.back()->leans_on_next) break;
    }
    for (; !chain.empty(); chain.pop_back())
        picture = unpack(*chain.back(), picture.get(), decoding_.memory());
    return picture;
}

Fetched Fetcher::fetch(FrameIndex frame, FrameIndex centre, Travel travel,
                       const std::function<bool()>& stopped) {
    if (cache_.find(frame)) return Fetched::found;
    if (cache_.has(frame)) {
        const Stopwatch watch;
        if (PicturePtr picture = unpacked(frame)) {
            blend(unpacking_ms_, watch.ms());
            cache_.put(frame, std::move(picture));
            return Fetched::found;
        }
    }
    return decode(frame, centre, travel, stopped);
}

Fetched Fetcher::decode(FrameIndex frame, FrameIndex centre, Travel travel,
                        const std::function<bool()>& stopped) {
    constexpr int past_it = 16;     // pictures shown later that may come out first in a damaged film
    constexpr int most_retries = 2; // earlier entries to try before the film is said to lack the picture
    const std::int32_t last_packet = last_packet_for(*index_, frame);
    std::int32_t entry = index_->entry_of_frame[at(number(frame))];
    bool fresh = !decoding_.leads_to(frame);
    const auto begin = [&] {
        pack_waiting(nullptr);
        plan_ = plan(frame, centre, travel);
        decoding_.begin_at(entry, plan_.first_kept);
        fresh = true;
    };
    if (fresh) begin();

    for (int retries = 0;; ++retries) {
        bool found = false, passed = false;
        const Decoding::Sink sink = [&](FrameIndex out, PicturePtr picture) {
            found = found || out == frame;
            passed = passed || number(out) > number(frame) + past_it;
            keep(out, std::move(picture));
        };
        for (bool more = true; more && !found && !passed;) {
            if (stopped && stopped()) return Fetched::stopped;
            const Stopwatch watch;
            const double packed_before = packing_ms_;
            const bool passing_over = decoding_.passes_over_next();
            if (travel == Travel::backward && decoding_.next_packet() > last_packet) {
                decoding_.finish(sink);
                more = false;
            } else {
                more = decoding_.step(sink);
                if (packing_ms_ == packed_before)
                    blend(passing_over ? skipping_ms_ : decoding_ms_, watch.ms());
            }
        }
        if (found) return Fetched::found;
        if (fresh && (retries == most_retries || entry == 0)) return Fetched::missing;
        if (fresh) entry = entry_before(*index_, entry);
        begin();
    }
}

} // namespace ropeline
