#include "film/film_desk.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <set>
#include <thread>
#include <utility>

#include "film/background.h"
#include "film/fetching.h"
#include "film/film_error.h"
#include "film/film_opening.h"
#include "film/picture_cache.h"

namespace ropeline {

namespace {

constexpr std::int64_t still_reach = 24;   // frames kept ready on both sides while the film stands still
constexpr std::int64_t moving_reach = 600; // frames looked ahead for while it moves; the cache ends it sooner

constexpr std::int64_t unpacked_reach = 8; // frames around the coach's that are kept ready to show

} // namespace

struct FilmDesk::Insides {
    explicit Insides(std::string p, const FilmOptions& o)
        : path(std::move(p)), options(o), cache(o.cache_bytes) {}

    const std::string path;
    const FilmOptions options;

    mutable std::mutex mutex; // guards everything down to `wishes`
    std::condition_variable_any changed;
    State state = State::opening;
    std::string error;
    std::shared_ptr<const FilmFacts> facts;
    std::shared_ptr<const FrameTable> table;
    PicturePtr first;
    std::vector<std::byte> to_keep;
    PictureCache cache;
    std::set<std::int64_t> missing;
    FrameIndex wish{}, wish_before{};
    int direction = 0;
    std::int64_t stride = 1;
    std::uint64_t wishes = 0; // how often want() was called

    std::atomic<double> read_share = 0.0;
    OpenFilm film;                    // written before `state` is ready, then only read
    std::unique_ptr<Fetcher> fetcher; // only the worker's
    std::jthread worker;              // last: it ends before the rest goes

    void open(const std::stop_token& stop);
    void serve(const std::stop_token& stop);
    std::optional<FrameIndex> next_job() const;
    void work(FrameIndex frame, const std::stop_token& stop);
    void rest_after(FrameIndex frame, std::chrono::steady_clock::duration worked,
                    const std::stop_token& stop);
    void run(const std::stop_token& stop);
};

void FilmDesk::Insides::open(const std::stop_token& stop) {
    Source source(path, options.stream);
    const FilmFacts read_facts = facts_of(source);
    {
        PicturePtr picture = first_picture_of(source);
        const std::lock_guard lock(mutex);
        facts = std::make_shared<const FilmFacts>(read_facts);
        first = std::move(picture);
    }
    // From here on: until the first picture is there the window has nothing to show. No more than 9: beside two busy
    // loops a held step waited 5.8 s at 9 and 14.8 s at 14.
    work_in_background(9);
    const auto report = [&](std::int64_t bytes) {
        read_share =
            std::min(1.0, static_cast<double>(bytes) /
                              static_cast<double>(std::max<std::uint64_t>(1, read_facts.file_bytes)));
    };
    film = open_film(source, read_facts, options.kept_index, report, stop);
    if (stop.stop_requested()) return;
    fetcher = std::make_unique<Fetcher>(Decoding(std::move(source), film.index, options.threads), film.index,
                                        cache);
    auto frames = std::make_shared<const FrameTable>(film.index->pts, film.index->time_base);
    const std::lock_guard lock(mutex);
    to_keep = pack(*film.index, fetcher->decoding().source(), film.facts.fingerprint);
    facts = std::make_shared<const FilmFacts>(film.facts);
    table = std::move(frames);
    read_share = 1.0;
    wish = table->clamp(number(wish));
    state = State::ready;
}

// The wished frame first; then what the coach will most likely want, as long as the cache would keep it.
std::optional<FrameIndex> FilmDesk::Insides::next_job() const {
    const std::int64_t count = film.index->frames(), centre = number(wish);
    const auto lacks = [&](std::int64_t i, std::int64_t away) {
        const FrameIndex frame{i};
        if (i < 0 || i >= count || missing.contains(i)) return false;
        return away <= unpacked_reach ? !cache.find(frame) : !cache.has(frame);
    };
    if (lacks(centre, 0)) return wish;
    const std::int64_t reach = direction == 0 ? still_reach : moving_reach;
    // First on from where decoding stands, then back: a jump shows its frame having decoded none of those before it,
    // and to change sides means to begin the sequence again.
    for (const int side : {1, -1}) {
        if (direction != 0 && side != direction) continue;
        for (std::int64_t away = stride; away <= reach; away += stride) {
            const std::int64_t i = centre + side * away;
            if (!lacks(i, away)) continue;
            const FrameIndex frame{i};
            if (cache.has(frame)) return frame; // only to be unpacked
            if (!cache.would_keep(frame)) break;
            // A pass backward is dear: it is made when it brings much more than is still in hand.
            if (side < 0 && away > fetcher->reach_back(frame) / 2 && away > still_reach) break;
            return frame;
        }
    }
    return {};
}

void FilmDesk::Insides::work(FrameIndex frame, const std::stop_token& stop) {
    std::uint64_t seen = 0;
    FrameIndex centre{};
    Travel travel = Travel::jump;
    bool hurries = false;
    {
        const std::lock_guard lock(mutex);
        seen = wishes;
        hurries = stride > 1 && direction > 0;
        centre = wish;
        if (frame != wish || std::abs(number(wish) - number(wish_before)) <= unpacked_reach) {
            travel = direction < 0 || frame < wish ? Travel::backward : Travel::forward;
        }
    }
    const auto stopped = [&] {
        if (stop.stop_requested()) return true;
        const std::lock_guard lock(mutex);
        return wishes != seen && wish != frame && !cache.find(wish); // also when it only waits to be unpacked
    };
    if (hurries) fetcher->pass_over_to(frame);
    Fetched result = Fetched::missing;
    try {
        result = fetcher->fetch(frame, centre, travel, stopped);
    } catch (const FilmError&) {
        // Damage at one place must not end the film: this frame is missing, the others may be there.
    }
    if (result != Fetched::missing) return;
    const std::lock_guard lock(mutex);
    missing.insert(number(frame));
}

// With enough in hand there is no hurry: two thirds of the time are left to the window, which would show every
// step late while all cores decode.
void FilmDesk::Insides::rest_after(FrameIndex frame, std::chrono::steady_clock::duration worked,
                                   const std::stop_token& stop) {
    constexpr std::int64_t comfortable = 12; // pictures in hand
    constexpr std::chrono::milliseconds longest{60};
    std::unique_lock lock(mutex);
    if (number(frame) - number(wish) < comfortable * stride) return;
    changed.wait_for(lock, stop, std::min<std::chrono::steady_clock::duration>(2 * worked, longest),
                     [&] { return !cache.find(wish); });
}

void FilmDesk::Insides::serve(const std::stop_token& stop) {
    while (!stop.stop_requested()) {
        std::optional<FrameIndex> job;
        {
            std::unique_lock lock(mutex);
            const std::uint64_t seen = wishes;
            job = next_job();
            if (!job) changed.wait(lock, stop, [&] { return wishes != seen; });
        }
        if (!job) continue;
        const auto start = std::chrono::steady_clock::now();
        work(*job, stop);
        rest_after(*job, std::chrono::steady_clock::now() - start, stop);
    }
}

void FilmDesk::Insides::run(const std::stop_token& stop) {
    try {
        open(stop);
        serve(stop);
    } catch (const std::exception& failure) {
        const std::lock_guard lock(mutex);
        state = State::failed;
        error = failure.what();
    }
}

FilmDesk::FilmDesk(std::string path, std::size_t cache_bytes)
    : FilmDesk(std::move(path), FilmOptions{.cache_bytes = cache_bytes}) {}

FilmDesk::FilmDesk(std::string path, const FilmOptions& options)
    : insides_(std::make_unique<Insides>(std::move(path), options)) {
    insides_->worker = std::jthread([this](const std::stop_token& stop) { insides_->run(stop); });
}

FilmDesk::~FilmDesk() = default;

FilmDesk::State FilmDesk::state() const {
    const std::lock_guard lock(insides_->mutex);
    return insides_->state;
}

std::string FilmDesk::error() const {
    const std::lock_guard lock(insides_->mutex);
    return insides_->error;
}

std::shared_ptr<const FilmFacts> FilmDesk::facts() const {
    const std::lock_guard lock(insides_->mutex);
    return insides_->facts;
}

std::shared_ptr<const FrameTable> FilmDesk::frames() const {
    const std::lock_guard lock(insides_->mutex);
    return insides_->table;
}

void FilmDesk::want(FrameIndex frame, int direction, std::int64_t stride) {
    {
        const std::lock_guard lock(insides_->mutex);
        const FrameIndex wish = insides_->table ? insides_->table->clamp(number(frame)) : frame;
        if (wish == insides_->wish && direction == insides_->direction && stride == insides_->stride &&
            insides_->wishes > 0)
            return;
        insides_->wish_before = std::exchange(insides_->wish, wish);
        insides_->direction = direction;
        insides_->stride = stride;
        insides_->cache.look_from(wish, direction);
        ++insides_->wishes;
    }
    insides_->changed.notify_one();
}

PicturePtr FilmDesk::cached(FrameIndex frame) const {
    return insides_->cache.find(frame);
}

std::string FilmDesk::missing(FrameIndex frame) const {
    const std::lock_guard lock(insides_->mutex);
    if (!insides_->missing.contains(number(frame))) return {};
    return "The film is damaged at frame " + std::to_string(number(frame)) +
           ": the picture cannot be decoded.";
}

PicturePtr FilmDesk::first_picture() const {
    const std::lock_guard lock(insides_->mutex);
    return insides_->first;
}

double FilmDesk::progress() const {
    return insides_->read_share;
}

std::vector<FilmHole> FilmDesk::holes() const {
    const std::lock_guard lock(insides_->mutex);
    if (insides_->state != State::ready) return {};
    return holes_with(insides_->film.holes, insides_->missing);
}

std::vector<std::byte> FilmDesk::index_to_keep() const {
    const std::lock_guard lock(insides_->mutex);
    return insides_->to_keep;
}

} // namespace ropeline
