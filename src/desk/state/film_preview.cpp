#include "desk/state/film_preview.h"

#include "film/background.h"
#include "film/film_error.h"

namespace ropeline {

FilmPreview::FilmPreview(std::string path, std::vector<std::byte> kept_index) {
    FilmOptions options;
    options.cache_bytes = std::size_t{16} << 20;
    options.threads = 1;
    options.kept_index = std::move(kept_index);
    thread_ = std::jthread(
        [this, path = std::move(path), options = std::move(options)](const std::stop_token& stop) {
            work_in_background(9);
            try {
                run(stop, path, options);
            } catch (const std::exception&) {
                // The desk itself says what is wrong with this film; without memory there is no preview.
                const std::lock_guard lock(guard_);
                closed_ = true;
            }
        });
}

void FilmPreview::ask(FrameIndex frame, std::int64_t within) {
    {
        const std::lock_guard lock(guard_);
        wish_ = Wish{frame, within};
    }
    changed_.notify_one();
}

std::optional<FilmPreview::Seen> FilmPreview::take() {
    const std::lock_guard lock(guard_);
    std::optional<Seen> taken = std::move(seen_);
    seen_.reset();
    return taken;
}

bool FilmPreview::awaited() const {
    const std::lock_guard lock(guard_);
    return !closed_ && wish_ != answered_;
}

void FilmPreview::run(const std::stop_token& stop, const std::string& path, const FilmOptions& options) {
    FilmReader reader(path, options);
    while (!stop.stop_requested()) {
        Wish wish;
        {
            std::unique_lock lock(guard_);
            if (!changed_.wait(lock, stop, [&] { return wish_ && wish_ != answered_; })) return;
            wish = *wish_;
        }
        // The film on the disk may be a shorter one by now than the one the desk has open.
        const FrameIndex wanted = reader.frames().clamp(number(wish.frame));
        const FrameIndex entry = reader.begins_at(wanted);
        const bool near = number(wanted) - number(entry) <= wish.within;
        Seen seen{near ? entry : wanted, nullptr};
        try {
            seen.picture = reader.picture(seen.frame);
        } catch (const FilmError&) {
            // Damaged here: no picture.
        }
        const std::lock_guard lock(guard_);
        answered_ = wish;
        if (seen.picture) seen_ = std::move(seen);
    }
}

} // namespace ropeline
