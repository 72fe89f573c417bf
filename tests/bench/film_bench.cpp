// The film benchmark: every figure as a ratio to libav driven directly, and beside FFMS2 and OpenCV, all in
// one run. film_bench [FOLDER]   FOLDER keeps the clips between runs (ropeline_bench in the temporary
// folder).
#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <numeric>
#include <random>
#include <sys/resource.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

#include "bench/rivals.h"
#include "film/film.h"
#include "film/format_clips.h"
#include "film/truth.h"

using namespace ropeline;
using bench::Rival;

namespace {

constexpr std::size_t cache_bytes = std::size_t{512} << 20;

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

struct Child {
    std::vector<double> numbers;
    double peak_mib = 0.0;
};

// Each measurement runs in a process of its own: clean memory, and its peak is its own.
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

using Open = std::function<std::unique_ptr<Rival>()>;

double forward_rate(const Open& open, std::int64_t count) {
    return in_child([&] {
               const auto film = open();
               film->next(); // opening and indexing are measured elsewhere
               const auto start = Clock::now();
               std::int64_t done = 1;
               while (done < count && film->next())
                   ++done;
               return std::vector{static_cast<double>(done - 1) / seconds_since(start)};
           })
        .numbers[0];
}

/// Frames a second, decodes a frame, peak MiB.
std::array<double, 3> backward_rate(const Open& open, std::int64_t from, std::int64_t count) {
    const Child child = in_child([&] {
        const auto film = open();
        const auto start = Clock::now();
        for (std::int64_t i = 0; i < count; ++i)
            film->go_to(from - i);
        const double rate = static_cast<double>(count) / seconds_since(start);
        return std::vector{rate, static_cast<double>(film->decoded()) / static_cast<double>(count)};
    });
    return {child.numbers[0], child.numbers.back(), child.peak_mib};
}

double random_access_ms(const Open& open, const std::vector<std::int64_t>& targets) {
    return in_child([&] {
               const auto film = open();
               film->next();
               const auto start = Clock::now();
               for (const std::int64_t frame : targets)
                   film->go_to(frame);
               return std::vector{1000.0 * seconds_since(start) / static_cast<double>(targets.size())};
           })
        .numbers[0];
}

/// Milliseconds from a wish to the frame in hand, for steps back at the pace of a held key; sorted.
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

/// The longest and the 99.9th percentile call into the desk's film from a window loop, milliseconds, and peak
/// MiB.
std::array<double, 3> desk_calls(const std::string& path) {
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

double our_first_frame_ms(const std::string& path) {
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

double our_index_ms(const std::string& path) {
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

/// The least of three, since other work on the machine only ever adds.
double least(const std::function<double()>& measure) {
    double best = measure();
    for (int i = 0; i < 2; ++i)
        best = std::min(best, measure());
    return best;
}


void make_clip(const std::string& path, const std::string& arguments) {
    if (std::filesystem::exists(path)) return;
    fmt::print(stderr, "making {}\n", path);
    clips::ffmpeg(arguments + " " + clips::quoted(path + ".part.mp4"));
    std::filesystem::rename(path + ".part.mp4", path);
}

struct Clips {
    std::string hd, hd_long, uhd, two_hours, ten_seconds;
};

Clips make_clips(const std::filesystem::path& folder) {
    std::filesystem::create_directories(folder);
    const auto file = [&](const char* name) { return (folder / name).string(); };
    const Clips all{file("1080p60_gop250.mp4"), file("1080p60_long.mp4"), file("2160p30_gop600.mp4"),
                    file("two_hours.mp4"), file("ten_seconds.mp4")};
    const std::string x264 =
        " -c:v libx264 -preset veryfast -bf 3 -x264-params scenecut=0:b-pyramid=normal:b-adapt=1:";
    make_clip(all.hd, "-f lavfi -i testsrc2=s=1920x1080:r=60:d=17,noise=alls=5:allf=t" + x264 +
                          "keyint=250:min-keyint=250 -b:v 12M");
    make_clip(all.hd_long, "-stream_loop 2 -i " + clips::quoted(all.hd) + " -c copy");
    make_clip(all.uhd, "-f lavfi -i testsrc2=s=3840x2160:r=30:d=42,noise=alls=4:allf=t" + x264 +
                           "keyint=600:min-keyint=600 -b:v 35M");
    make_clip(all.ten_seconds, "-f lavfi -i testsrc2=s=1280x720:r=30:d=10 -f lavfi -i sine=d=10 -c:a aac" +
                                   x264 + "keyint=60 -b:v 600k");
    make_clip(all.two_hours, "-stream_loop 719 -i " + clips::quoted(all.ten_seconds) + " -c copy");
    return all;
}

void row(const std::string& figure, const std::string& measured, const std::string& bar, bool holds) {
    fmt::print("| {} | {} | {} | {} |\n", figure, measured, bar, holds ? "holds" : "**misses**");
    fflush(stdout);
}

void speed_table(const Clips& film) {
    constexpr std::int64_t forward_count = 2000;
    const Open ours_long = [&] { return bench::open_ours(film.hd_long, cache_bytes); };
    const auto libav = [&](const std::string& path, int threads) {
        return Open([=] { return bench::open_libav(path, threads); });
    };

    double raw = 0.0, our = 0.0;
    int best_threads = 1;
    std::map<std::string, double> rival_forward;
    for (int turn = 0; turn < 3; ++turn) { // in turns, so that a busy moment of the machine falls on all
        for (const int threads : {2, 3}) {
            const double rate = forward_rate(libav(film.hd_long, threads), forward_count);
            if (rate > raw) raw = rate, best_threads = threads;
        }
        our = std::max(our, forward_rate(ours_long, forward_count));
        for (const auto& rival : bench::others()) {
            double& best = rival_forward[rival.name];
            best = std::max(best, forward_rate([&] { return rival.open(film.hd_long); }, forward_count));
        }
    }
    std::string rest;
    bool better = true;
    for (const auto& [name, rate] : rival_forward) {
        rest += fmt::format(", {} {:.2f}", name, rate / raw);
        better = better && our > rate;
    }
    row("forward, 1080p60, of libav at its best threading",
        fmt::format("{:.2f} ({:.0f} of {:.0f} frames/s, {} threads){}", our / raw, our, raw, best_threads,
                    rest),
        "0.95, better than both", our >= 0.95 * raw && better);

    std::vector<std::int64_t> targets;
    std::mt19937 random(3);
    for (int i = 0; i < 16; ++i)
        targets.push_back(static_cast<std::int64_t>(random() % 1000));
    const double floor = least([&] { return random_access_ms(libav(film.hd, best_threads), targets); });
    const double access = least([&] {
        return random_access_ms([&] { return bench::open_ours(film.hd, std::size_t{64} << 20); }, targets);
    });
    rest.clear();
    better = true;
    for (const auto& rival : bench::others()) {
        const double time = random_access_ms([&] { return rival.open(film.hd); }, targets);
        rest += fmt::format(", {} {:.2f}", rival.name, time / floor);
        better = better && access < time;
    }
    row("random access, 1080p60 GOP 250, of the floor",
        fmt::format("{:.2f} ({:.0f} ms a frame, floor {:.0f} ms){}", access / floor, access, floor, rest),
        "at most 1.10, better than both", access <= 1.1 * floor && better);

    const auto steps = desk_steps_back(film.hd, 990, 600);
    rest.clear();
    for (const auto& rival : bench::others()) {
        const auto slow = backward_rate([&] { return rival.open(film.hd); }, 700, 40);
        rest += fmt::format(", {} {:.0f} ms on average", rival.name, 1000.0 / slow[0]);
    }
    const double step99 = steps[steps.size() * 99 / 100];
    row("one step back, warm, 600 steps of a held key",
        fmt::format("99 % within {:.2f} ms, longest {:.1f} ms{}", step99, steps.back(), rest),
        "99 % under 2 ms", step99 < 2.0);

    const auto hd_back = backward_rate(ours_long, 3059, 2500);
    const auto hd_again = backward_rate(ours_long, 3059, 2500);
    const double hd_rate = std::max(hd_back[0], hd_again[0]);
    rest.clear();
    for (const auto& rival : bench::others()) {
        const auto slow = backward_rate([&] { return rival.open(film.hd); }, 700, 40);
        rest += fmt::format(", {} {:.3f}", rival.name, slow[0] / our);
    }
    row("running backward, 1080p60 GOP 250, of our forward rate",
        fmt::format("{:.2f} ({:.0f} frames/s), {:.2f} decodes a frame{}", hd_rate / our, hd_rate, hd_back[1],
                    rest),
        "0.80, at most 1.3 decodes", hd_rate >= 0.8 * our && hd_back[1] <= 1.3);

    const Open ours_uhd = [&] { return bench::open_ours(film.uhd, cache_bytes); };
    double uhd_forward = 0.0;
    std::array<double, 3> uhd_back{};
    for (int turn = 0; turn < 2; ++turn) {
        uhd_forward = std::max(uhd_forward, forward_rate(ours_uhd, 300));
        const auto back = backward_rate(ours_uhd, 1199, 1199);
        if (back[0] > uhd_back[0]) uhd_back = back;
    }
    row("running backward, 2160p30 GOP 600, of our forward rate",
        fmt::format("{:.2f} ({:.1f} of {:.1f} frames/s), {:.2f} decodes a frame", uhd_back[0] / uhd_forward,
                    uhd_back[0], uhd_forward, uhd_back[1]),
        "0.30", uhd_back[0] >= 0.3 * uhd_forward);

    for (const auto& [name, path] :
         {std::pair{"ten seconds", film.ten_seconds}, std::pair{"two hours", film.two_hours}}) {
        const double libav_ms = least([&] {
            return in_child([&] { return std::vector{bench::libav_first_frame_ms(path)}; }).numbers[0];
        });
        const double our_ms = least([&] { return our_first_frame_ms(path); });
        row(fmt::format("first frame, a film of {}, of libav's open and one decode", name),
            fmt::format("{:.2f} ({:.0f} ms of {:.0f} ms)", our_ms / libav_ms, our_ms, libav_ms),
            "at most 1.2", our_ms <= 1.2 * libav_ms);
    }
    const double packets = least([&] {
        return in_child([&] { return std::vector{bench::libav_packets_ms(film.two_hours)}; }).numbers[0];
    });
    const double index = least([&] { return our_index_ms(film.two_hours); });
    row("index of two hours, of reading the packets",
        fmt::format("{:.2f} ({:.0f} ms of {:.0f} ms)", index / packets, index, packets), "at most 1.3",
        index <= 1.3 * packets);

    const auto calls = desk_calls(film.uhd);
    row("longest call into the film from the window, 2160p",
        fmt::format("{:.2f} ms, 99.9 % within {:.3f} ms", calls[0], calls[1]), "16 ms", calls[0] < 16.0);
    const double peak = std::max({uhd_back[2], hd_back[2], calls[2]});
    row("memory at most, cache 512 MiB",
        fmt::format("{:.0f} MiB (backward 1080p {:.0f}, backward 2160p {:.0f}, desk 2160p {:.0f})", peak,
                    hd_back[2], uhd_back[2], calls[2]),
        "662 MiB", peak <= 662.0);
}

/// Frames got wrong by random access, of all: by MD5 where the rival gives the decoder's planes, else against
/// its own forward run; with what is said of the number of frames.
std::string misses(const bench::RivalKind& rival, const std::string& path,
                   const std::vector<clips::TrueFrame>& truth) {
    const Child child = in_child([&] {
        auto film = rival.open(path);
        const std::int64_t count = film->frames();
        std::vector<std::string> expected;
        if (rival.digests_are_md5) {
            for (const auto& frame : truth)
                expected.push_back(frame.md5);
        } else {
            while (film->next())
                expected.push_back(film->digest());
        }
        std::vector<std::int64_t> order(truth.size());
        std::iota(order.begin(), order.end(), 0);
        std::shuffle(order.begin(), order.end(), std::mt19937(1));
        std::vector<double> wrong{static_cast<double>(count)};
        for (const std::int64_t i : order) {
            const auto at = static_cast<std::size_t>(i);
            if (at >= expected.size() || !film->go_to(i) || film->digest() != expected[at])
                wrong.push_back(static_cast<double>(i));
        }
        std::sort(wrong.begin() + 1, wrong.end());
        return wrong;
    });
    if (std::isnan(child.numbers[0])) return "cannot open or crashes";
    const auto wrong = child.numbers.size() - 1;
    std::string said =
        wrong == 0 ? "all right" : fmt::format("{} wrong (first {:.0f})", wrong, child.numbers[1]);
    if (child.numbers[0] != static_cast<double>(truth.size()))
        said += fmt::format(", says {:.0f} frames", child.numbers[0]);
    return said;
}

void exactness_table(const std::filesystem::path& folder) {
    fmt::print("\n| clip, shuffled | frames | Ropeline |");
    for (const auto& rival : bench::others())
        fmt::print(" {} |", rival.name);
    fmt::print("\n| --- | --- | --- |");
    for (std::size_t i = 0; i < bench::others().size(); ++i)
        fmt::print(" --- |");
    fmt::print("\n");
    const auto ours = [](const std::string& path) { return bench::open_ours(path, cache_bytes); };
    for (const clips::Clip& clip : clips::format_clips()) {
        const std::string path = (folder / clip.file).string();
        if (!std::filesystem::exists(path)) clips::make(clip, folder.string());
        const auto truth = clips::truth_of(path);
        std::string line =
            fmt::format("| {} | {} | {} |", clip.file, truth.size(), misses({"", ours, true}, path, truth));
        for (const auto& rival : bench::others())
            line += fmt::format(" {} |", misses(rival, path, truth));
        fmt::print("{}\n", line);
        fflush(stdout);
    }
}

std::string machine() {
    std::ifstream file("/proc/cpuinfo");
    for (std::string line; std::getline(file, line);) {
        if (line.starts_with("model name")) return line.substr(line.find(':') + 2);
    }
    return "unknown";
}

} // namespace

int main(int argc, char** argv) {
    const std::filesystem::path folder =
        argc > 1 ? argv[1] : (std::filesystem::temp_directory_path() / "ropeline_bench").string();
    const std::string part = argc > 2 ? argv[2] : "all";
    const Clips film = make_clips(folder);
    std::ifstream load("/proc/loadavg");
    std::string busy;
    std::getline(load, busy, ' ');
    fmt::print("Machine: {}, {} cores, load {} at the start.\n\n", machine(),
               std::thread::hardware_concurrency(), busy);
    if (part != "exact") {
        fmt::print("| figure | measured | bar | |\n| --- | --- | --- | --- |\n");
        speed_table(film);
    }
    if (part != "speed") exactness_table(folder / "formats");
    return 0;
}
