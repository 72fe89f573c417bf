// The film benchmark: every figure as a ratio to libav driven directly, and beside FFMS2 and OpenCV, all in
// one run. film_bench [FOLDER [speed|exact]]   FOLDER keeps the clips between runs (ropeline_bench in the
// temporary folder).
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <numeric>
#include <random>
#include <thread>
#include <utility>

#include "bench/film_measures.h"
#include "film/format_clips.h"
#include "film/truth.h"

using bench::Open;

namespace {

constexpr std::size_t cache_bytes = std::size_t{512} << 20;

/// The least of eight each, in turns: other work on the machine only ever adds, and may last for several.
std::pair<double, double> least_of_both(const std::function<double()>& one,
                                        const std::function<double()>& other) {
    std::pair<double, double> best{one(), other()};
    for (int i = 0; i < 7; ++i)
        best = {std::min(best.first, one()), std::min(best.second, other())};
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

/// Every one measured in turns, so that a busy moment of the machine falls on all; the least of each, since other
/// work only ever adds.
std::vector<bench::Cost> least_in_turns(int turns,
                                        const std::vector<std::function<bench::Cost()>>& measures) {
    std::vector<bench::Cost> least(measures.size());
    for (int turn = 0; turn < turns; ++turn) {
        for (std::size_t i = 0; i < measures.size(); ++i) {
            const bench::Cost cost = measures[i]();
            const auto lower = [turn](double& kept, double now) {
                kept = turn == 0 ? now : std::min(kept, now);
            };
            lower(least[i].wall_ms, cost.wall_ms);
            lower(least[i].processor_ms, cost.processor_ms);
        }
    }
    return least;
}

/// One way of opening the film for each rival.
std::vector<Open> rivals_of(const std::string& path) {
    std::vector<Open> all;
    for (const auto& rival : bench::others())
        all.emplace_back([open = rival.open, path] { return open(path); });
    return all;
}

std::string named(const std::vector<double>& figures, const char* form) {
    std::string text;
    for (std::size_t i = 0; i < figures.size(); ++i)
        text += fmt::format(", {} {}", bench::others()[i].name, fmt::format(fmt::runtime(form), figures[i]));
    return text;
}

/// By the clock, and in brackets by the processor's time.
std::string ratio(const bench::Cost& one, const bench::Cost& other) {
    return fmt::format("{:.2f} (processor {:.2f})", one.wall_ms / other.wall_ms,
                       one.processor_ms / other.processor_ms);
}

std::string ratios(const std::vector<bench::Cost>& rivals, const bench::Cost& other) {
    std::string text;
    for (std::size_t i = 0; i < rivals.size(); ++i)
        text += fmt::format("; {} {}", bench::others()[i].name, ratio(rivals[i], other));
    return text;
}

Open libav(const std::string& path, int threads) {
    return [=] { return bench::open_libav(path, threads); };
}

Open ours(const std::string& path, std::size_t bytes = cache_bytes) {
    return [=] { return bench::open_ours(path, bytes); };
}

/// Returns the number of threads with which libav was best.
int forward_row(const Clips& film) {
    constexpr std::int64_t count = 1000;
    std::vector<std::function<bench::Cost()>> measures;
    std::vector<Open> openings{libav(film.hd_long, 2), libav(film.hd_long, 3), ours(film.hd_long)};
    for (const Open& open : rivals_of(film.hd_long))
        openings.push_back(open);
    for (const Open& open : openings)
        measures.emplace_back([open] { return bench::forward_cost(open, count); });
    std::vector<bench::Cost> costs = least_in_turns(6, measures);
    const int threads = costs[0].wall_ms <= costs[1].wall_ms ? 2 : 3;
    const bench::Cost raw = costs[threads == 2 ? 0 : 1], our = costs[2];
    costs.erase(costs.begin(), costs.begin() + 3);
    const bool better = std::all_of(costs.begin(), costs.end(),
                                    [&](const bench::Cost& rival) { return our.wall_ms <= rival.wall_ms; });
    row("forward, 1080p60, time a frame, of libav at its best threading",
        fmt::format("{}, {:.2f} ms a frame, {} threads{}", ratio(our, raw), our.wall_ms, threads,
                    ratios(costs, raw)),
        "no more than the better of the others", better);
    return threads;
}

/// What decides whether the floor is one: with pictures skipped it still shows the right ones.
bool floor_is_exact(const std::string& path, const std::vector<std::int64_t>& targets, int threads) {
    return bench::in_child([&] {
               const auto floor = bench::open_libav(path, threads),
                          film = bench::open_ours(path, cache_bytes);
               const bool exact = std::all_of(targets.begin(), targets.end(), [&](std::int64_t frame) {
                   return floor->go_to(frame) && film->go_to(frame) && floor->digest() == film->digest();
               });
               return std::vector{exact ? 1.0 : 0.0};
           }).numbers[0] == 1.0;
}

void random_access_row(const Clips& film, int threads) {
    std::vector<std::int64_t> targets;
    std::mt19937 random(3);
    for (int i = 0; i < 16; ++i)
        targets.push_back(static_cast<std::int64_t>(random() % 1000));
    if (!floor_is_exact(film.hd, targets, threads))
        fmt::print(stderr, "film_bench: the floor shows other pictures\n");
    std::vector<Open> openings{libav(film.hd, threads), ours(film.hd, std::size_t{64} << 20)};
    for (const Open& open : rivals_of(film.hd))
        openings.push_back(open);
    std::vector<std::function<bench::Cost()>> measures;
    for (const Open& open : openings)
        measures.emplace_back([open, &targets] { return bench::random_access_cost(open, targets); });
    std::vector<bench::Cost> costs = least_in_turns(3, measures);
    const bench::Cost floor = costs[0], access = costs[1];
    costs.erase(costs.begin(), costs.begin() + 2);
    const bool better = std::all_of(costs.begin(), costs.end(),
                                    [&](const bench::Cost& rival) { return access.wall_ms < rival.wall_ms; });
    row("random access, 1080p60 GOP 250, of the floor",
        fmt::format("{}, {:.0f} of {:.0f} ms{}", ratio(access, floor), access.wall_ms, floor.wall_ms,
                    ratios(costs, floor)),
        "at most 1.10, better than both", access.wall_ms <= 1.1 * floor.wall_ms && better);
}

/// Rates of the rivals going backward, frames a second.
std::vector<double> rivals_backward(const Clips& film) {
    std::vector<double> rates;
    for (const Open& open : rivals_of(film.hd))
        rates.push_back(bench::backward_rate(open, 700, 40).rate_hz);
    return rates;
}

void step_back_row(const Clips& film, std::vector<double> rivals) {
    const auto steps = bench::desk_steps_back(film.hd, 990, 600);
    for (double& rate : rivals)
        rate = 1000.0 / rate;
    const double step99 = steps[steps.size() * 99 / 100];
    row("one step back, warm, 600 steps of a held key",
        fmt::format("99 % within {:.2f} ms, longest {:.1f} ms{}", step99, steps.back(),
                    named(rivals, "{:.0f} ms on average")),
        "99 % under 2 ms", step99 < 2.0);
}

void backward_rows(const Clips& film, std::vector<double> rivals) {
    const bench::BothWays hd = bench::both_ways(ours(film.hd_long), 2539, 250, 250);
    for (double& rate : rivals)
        rate *= hd.forward.wall_ms / 1000.0;
    row("running backward, 1080p60 GOP 250, of our forward rate",
        fmt::format("{}, {:.2f} of {:.2f} ms a frame, {:.2f} decodes a frame{}",
                    ratio(hd.forward, hd.backward), hd.backward.wall_ms, hd.forward.wall_ms,
                    hd.decodes_a_frame, named(rivals, "{:.3f}")),
        "0.85, at most 1.3 decodes",
        hd.forward.wall_ms >= 0.85 * hd.backward.wall_ms && hd.decodes_a_frame <= 1.3);
    const bench::BothWays uhd = bench::both_ways(ours(film.uhd), 1199, 60, 60);
    row("running backward, 2160p30 GOP 600, of our forward rate",
        fmt::format("{}, {:.1f} of {:.1f} ms a frame, {:.2f} decodes a frame",
                    ratio(uhd.forward, uhd.backward), uhd.backward.wall_ms, uhd.forward.wall_ms,
                    uhd.decodes_a_frame),
        "0.30", uhd.forward.wall_ms >= 0.3 * uhd.backward.wall_ms);
}

void opening_rows(const Clips& film) {
    for (const auto& [name, path] :
         {std::pair{"ten seconds", film.ten_seconds}, std::pair{"two hours", film.two_hours}}) {
        const auto libav = [&] {
            return bench::in_child([&] { return std::vector{bench::libav_first_frame_ms(path)}; }).numbers[0];
        };
        const auto [libav_ms, our_ms] = least_of_both(libav, [&] { return bench::first_frame_ms(path); });
        row(fmt::format("first frame, a film of {}, of libav's open and one decode", name),
            fmt::format("{:.2f} ({:.0f} ms of {:.0f} ms)", our_ms / libav_ms, our_ms, libav_ms),
            "at most 1.15", our_ms <= 1.15 * libav_ms);
    }
    const auto read_packets = [&] {
        return bench::in_child([&] { return std::vector{bench::libav_packets_ms(film.two_hours)}; })
            .numbers[0];
    };
    const auto [packets, index] =
        least_of_both(read_packets, [&] { return bench::index_ms(film.two_hours); });
    row("index of two hours, of reading the packets",
        fmt::format("{:.2f} ({:.0f} ms of {:.0f} ms)", index / packets, index, packets), "at most 1.3",
        index <= 1.3 * packets);
}

void speed_table(const Clips& film) {
    random_access_row(film, forward_row(film));
    const std::vector<double> rivals = rivals_backward(film);
    step_back_row(film, rivals);
    backward_rows(film, rivals);
    opening_rows(film);
    const bench::Calls calls = bench::desk_calls(film.uhd);
    row("longest call into the film from the window, 2160p",
        fmt::format("{:.2f} ms, 99.9 % within {:.3f} ms", calls.longest_ms, calls.nearly_all_ms), "16 ms",
        calls.longest_ms < 16.0);
    const double hd = bench::backward_rate(ours(film.hd_long), 2789, 750).peak_mib;
    const double uhd = bench::backward_rate(ours(film.uhd), 1259, 260).peak_mib;
    const double peak = std::max({hd, uhd, calls.peak_mib});
    row("memory at most, cache 512 MiB",
        fmt::format("{:.0f} MiB (backward 1080p {:.0f}, backward 2160p {:.0f}, desk 2160p {:.0f})", peak, hd,
                    uhd, calls.peak_mib),
        "662 MiB", peak <= 662.0);
}

/// Frames got wrong by random access, of all: by MD5 where the rival gives the decoder's planes, else against
/// its own forward run; with what is said of the number of frames.
std::string misses(const bench::RivalKind& rival, const std::string& path,
                   const std::vector<clips::TrueFrame>& truth) {
    const bench::Child child = bench::in_child([&] {
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
    const auto open_ours = [](const std::string& path) { return bench::open_ours(path, cache_bytes); };
    for (const clips::Clip& clip : clips::format_clips()) {
        const std::string path = (folder / clip.file).string();
        if (!std::filesystem::exists(path)) clips::make(clip, folder.string());
        const auto truth = clips::truth_of(path);
        std::string line = fmt::format("| {} | {} | {} |", clip.file, truth.size(),
                                       misses({"", open_ours, true}, path, truth));
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
