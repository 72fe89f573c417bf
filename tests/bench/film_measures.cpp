#include "bench/film_measures.h"

#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <sys/resource.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

#include "film/film_desk.h"

namespace bench {

using ropeline::FilmDesk;
using ropeline::FrameIndex;

namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

/// Processor time of all threads of this process.
double processor_s() {
    rusage used{};
    getrusage(RUSAGE_SELF, &used);
    const auto seconds = [](const timeval& time) {
        return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) / 1e6;
    };
    return seconds(used.ru_utime) + seconds(used.ru_stime);
}

class Spent {
public:
    Cost each(std::int64_t frames) const {
        const auto count = static_cast<double>(frames);
        return {1000.0 * seconds_since(start_) / count, 1000.0 * (processor_s() - processor_start_) / count};
    }

private:
    Clock::time_point start_ = Clock::now();
    double processor_start_ = processor_s();
};

void add(Cost& sum, const Cost& more) {
    sum.wall_ms += more.wall_ms;
    sum.processor_ms += more.processor_ms;
}

Cost in_child_cost(const std::function<Cost()>& work) {
    const Child child = in_child([&] {
        const Cost cost = work();
        return std::vector{cost.wall_ms, cost.processor_ms};
    });
    return {child.numbers.front(), child.numbers.back()};
}

constexpr std::size_t cache_bytes = std::size_t{512} << 20;

} // namespace

Child in_child(const std::function<std::vector<double>()>& work) {
    int ends[2];
    if (pipe(ends) != 0) throw std::runtime_error("no pipe");
    fflush(nullptr);
    const pid_t child = fork();
    if (child == 0) {
        std::vector<double> numbers;
        try {
            numbers = work();
        } catch (const std::exception& error) {
            fmt::print(stderr, "film_bench: {}\n", error.what());
        }
        const auto bytes = numbers.size() * sizeof(double);
        const bool told = write(ends[1], numbers.data(), bytes) == static_cast<ssize_t>(bytes);
        _exit(told ? 0 : 1);
    }
    close(ends[1]);
    Child result;
    for (double number = 0.0; read(ends[0], &number, sizeof number) == sizeof number;)
        result.numbers.push_back(number);
    close(ends[0]);
    rusage used{};
    int status = 0;
    wait4(child, &status, 0, &used);
    result.peak_mib = static_cast<double>(used.ru_maxrss) / 1024.0;
    if (result.numbers.empty()) result.numbers = {std::nan("")};
    return result;
}

Cost forward_cost(const Open& open, std::int64_t count) {
    return in_child_cost([&] {
        const auto film = open();
        film->next(); // opening and indexing are measured elsewhere
        const Spent spent;
        std::int64_t done = 1;
        while (done < count && film->next())
            ++done;
        return spent.each(done - 1);
    });
}

Backward backward_rate(const Open& open, std::int64_t from, std::int64_t count) {
    const Child child = in_child([&] {
        const auto film = open();
        const auto start = Clock::now();
        for (std::int64_t i = 0; i < count; ++i)
            film->go_to(from - i);
        return std::vector{static_cast<double>(count) / seconds_since(start)};
    });
    return {child.numbers[0], child.peak_mib};
}

BothWays both_ways(const Open& open, std::int64_t from, std::int64_t before, std::int64_t stretch) {
    constexpr std::int64_t turns = 10;
    const Child child = in_child([&] {
        const auto forward = open();
        forward->next();
        const auto backward = open();
        for (std::int64_t i = before; i > 0; --i)
            backward->go_to(from + i);
        const std::int64_t decoded_before = backward->decoded();
        Cost onward, back;
        for (std::int64_t turn = 0; turn < turns; ++turn) {
            const Spent forward_spent;
            for (std::int64_t i = 0; i < stretch; ++i)
                forward->next();
            add(onward, forward_spent.each(turns * stretch));
            const Spent backward_spent;
            for (std::int64_t i = 0; i < stretch; ++i)
                backward->go_to(from - turn * stretch - i);
            add(back, backward_spent.each(turns * stretch));
        }
        return std::vector{onward.wall_ms, onward.processor_ms, back.wall_ms, back.processor_ms,
                           static_cast<double>(backward->decoded() - decoded_before) /
                               static_cast<double>(turns * stretch)};
    });
    if (child.numbers.size() < 5) return {};
    return {{child.numbers[0], child.numbers[1]}, {child.numbers[2], child.numbers[3]}, child.numbers[4]};
}

Cost random_access_cost(const Open& open, const std::vector<std::int64_t>& targets) {
    return in_child_cost([&] {
        const auto film = open();
        film->next();
        const Spent spent;
        for (const std::int64_t frame : targets)
            film->go_to(frame);
        return spent.each(static_cast<std::int64_t>(targets.size()));
    });
}

std::vector<double> desk_steps_back(const std::string& path, std::int64_t from, int steps) {
    return in_child([&] {
               FilmDesk desk(path, cache_bytes);
               while (desk.state() == FilmDesk::State::opening)
                   std::this_thread::sleep_for(std::chrono::milliseconds(1));
               desk.want(FrameIndex{from}, 0);
               while (!desk.cached(FrameIndex{from}))
                   std::this_thread::sleep_for(std::chrono::milliseconds(1));
               std::this_thread::sleep_for(
                   std::chrono::milliseconds(300)); // the coach looks, then holds the key
               std::vector<double> times;
               for (int i = 1; i <= steps; ++i) {
                   const FrameIndex frame{from - i};
                   const auto start = Clock::now();
                   desk.want(frame, -1);
                   while (!desk.cached(frame))
                       std::this_thread::sleep_for(std::chrono::microseconds(100));
                   times.push_back(1000.0 * seconds_since(start));
                   std::this_thread::sleep_for(std::chrono::milliseconds(33));
               }
               std::sort(times.begin(), times.end());
               return times;
           })
        .numbers;
}

Calls desk_calls(const std::string& path) {
    const Child child = in_child([&] {
        FilmDesk desk(path, cache_bytes);
        std::vector<double> calls;
        const auto timed = [&](const auto& call) {
            const auto start = Clock::now();
            call();
            calls.push_back(1000.0 * seconds_since(start));
        };
        std::int64_t at = 0;
        const auto start = Clock::now();
        for (int turn = 0; seconds_since(start) < 12.0; ++turn) {
            timed([&] { static_cast<void>(desk.state()); });
            const auto frames = desk.frames();
            const int direction = turn / 200 % 2 == 0 ? 1 : -1;
            if (frames)
                at = number(frames->clamp(turn % 150 == 0 ? turn * 7919 % frames->count() : at + direction));
            timed([&] { desk.want(FrameIndex{at}, direction); });
            timed([&] { static_cast<void>(desk.cached(FrameIndex{at})); });
            std::this_thread::sleep_for(std::chrono::milliseconds(4));
        }
        std::sort(calls.begin(), calls.end());
        return std::vector{calls.back(), calls[calls.size() * 999 / 1000]};
    });
    return {child.numbers[0], child.numbers.back(), child.peak_mib};
}

double first_frame_ms(const std::string& path) {
    return in_child([&] {
               const auto start = Clock::now();
               FilmDesk desk(path, cache_bytes);
               while (!desk.first_picture() && desk.state() != FilmDesk::State::failed) {
                   std::this_thread::sleep_for(std::chrono::microseconds(50));
               }
               return std::vector{1000.0 * seconds_since(start)};
           })
        .numbers[0];
}

double index_ms(const std::string& path) {
    return in_child([&] {
               FilmDesk desk(path, cache_bytes);
               while (!desk.first_picture())
                   std::this_thread::sleep_for(std::chrono::microseconds(50));
               const auto start = Clock::now();
               while (desk.state() == FilmDesk::State::opening)
                   std::this_thread::sleep_for(std::chrono::microseconds(200));
               return std::vector{1000.0 * seconds_since(start)};
           })
        .numbers[0];
}

} // namespace bench
