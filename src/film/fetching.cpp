#include "film/fetching.h"

#include <algorithm>

namespace ropeline {

namespace {

// The last packet needed for this frame and all that are shown before it.
std::int32_t last_packet_for(const FilmIndex& index, FrameIndex frame) {
    std::int32_t last = 0;
    for (std::int64_t i = std::max<std::int64_t>(0, number(frame) - index.reorder); i <= number(frame); ++i) {
        last = std::max(last, index.packet_of_frame[static_cast<std::size_t>(i)]);
    }
    return last;
}

} // namespace

Fetched fetch(Decoding& decoding, const FilmIndex& index, FrameIndex frame, bool backward,
              const Decoding::Sink& sink, const std::function<bool()>& stopped) {
    constexpr int past_it = 16;     // pictures shown later that may come out first in a damaged film
    constexpr int most_retries = 2; // earlier entries to try before the film is said to lack the picture
    const std::int32_t last_packet = last_packet_for(index, frame);
    std::int32_t entry = index.entry_of_frame[static_cast<std::size_t>(number(frame))];
    bool fresh = !decoding.leads_to(frame);
    if (fresh) decoding.begin_at(entry);

    for (int retries = 0;; ++retries) {
        bool found = false, passed = false;
        const Decoding::Sink watching = [&](FrameIndex out, PicturePtr picture) {
            found = found || out == frame;
            passed = passed || number(out) > number(frame) + past_it;
            sink(out, std::move(picture));
        };
        for (bool more = true; more && !found && !passed;) {
            if (stopped && stopped()) return Fetched::stopped;
            if (backward && decoding.next_packet() > last_packet) {
                decoding.finish(watching);
                more = false;
            } else {
                more = decoding.step(watching);
            }
        }
        if (found) return Fetched::found;
        if (fresh && (retries == most_retries || entry == 0)) return Fetched::missing;
        if (fresh) entry = entry_before(index, entry);
        decoding.begin_at(entry);
        fresh = true;
    }
}

} // namespace ropeline
