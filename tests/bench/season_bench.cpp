// season_bench [SHOTS ...]: what a season of so many shots costs to open, to read, to sum up and to merge, each beside the same
// GROUP BY in the sqlite3 shell. Each in a process of its own, by the processor's time. README.md has the figures.
#include "bench/made_season.h"
#include "season/season_file.h"
#include "sheet/summary.h"
#include "unite/merge.h"

#include <fmt/core.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <charconv>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace {

using namespace ropeline;

/// What anybody would ask, of the view; and all that the words of a summary rest on, of the table they are counted from.
constexpr const char* of_the_view =
    "SELECT goalie, band, count(*), sum(on_goal), sum(saved), avg(clearance_m) FROM "
    "shot_facts GROUP BY goalie, band";
constexpr const char* of_counted_shots =
    "SELECT goalie_id, counts_as, count(*), count(DISTINCT game_id) FROM counted_shot GROUP BY goalie_id, "
    "counts_as";
constexpr std::int64_t most_to_work_out = 1'000'000; ///< beyond, facts are neither all held nor merged

struct Cost {
    double processor_s = 0.0, clock_s = 0.0, memory_mb = 0.0;
};

double seconds(const timeval& time) {
    return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
}

Cost cost_of(const std::function<void()>& body) {
    const auto start = std::chrono::steady_clock::now();
    const pid_t child = ::fork();
    if (child == 0) {
        int status = 1;
        try {
            body();
            status = 0;
        } catch (const std::exception& error) {
            fmt::print(stderr, "season_bench: {}\n", error.what());
        }
        std::fflush(nullptr);
        ::_exit(status);
    }
    int status = 0;
    rusage used{};
    if (child < 0 || ::wait4(child, &status, 0, &used) != child || status != 0)
        throw std::runtime_error("a part of it failed");
    return {seconds(used.ru_utime) + seconds(used.ru_stime),
            std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count(),
            static_cast<double>(used.ru_maxrss) / 1024.0};
}

void print(const std::string& what, const Cost& cost, double by_s) {
    fmt::print("  {:<52} {:>9.1f} ms {:>7.2f} x {:>9.1f} ms by the clock {:>6.0f} MB\n", what,
               1000.0 * cost.processor_s, cost.processor_s / by_s, 1000.0 * cost.clock_s, cost.memory_mb);
    std::fflush(stdout);
}

Cost in_the_shell(const std::filesystem::path& path, const char* query) {
    return cost_of([&] {
        if (!std::freopen("/dev/null", "w", stdout)) throw std::runtime_error("no /dev/null");
        ::execlp("sqlite3", "sqlite3", "-readonly", path.c_str(), query, nullptr);
        throw std::runtime_error("sqlite3 did not run");
    });
}

std::size_t summary_of(const std::filesystem::path& path) {
    const SeasonFile file = SeasonFile::open_to_count(path);
    return summary_text(file.season(), file.counted_shots()).size();
}

void measure_merge(const std::filesystem::path& path, std::int64_t shots, double by_s) {
    const auto other = path.parent_path() / "other.season", both = path.parent_path() / "both.season";
    cost_of([&] { make_season(other, shots, 2); });
    print("merged with another of that size", cost_of([&] {
              merge_seasons(path, other, both, [](const MergeConflict&) { return Keep::newer; });
          }),
          by_s);
    std::filesystem::remove(other);
    std::filesystem::remove(both);
}

void measure(const std::filesystem::path& path, std::int64_t shots) {
    in_the_shell(path, of_counted_shots); // what is asked of the disk first would pay for the others
    const Cost by_view = in_the_shell(path, of_the_view);
    const double by_s = by_view.processor_s;
    print("GROUP BY goalie, band on shot_facts in the shell", by_view, by_s);
    print("GROUP BY goalie, words on counted_shot in the shell", in_the_shell(path, of_counted_shots), by_s);
    print("summary from file to words, opened the first time", cost_of([&] { summary_of(path); }), by_s);
    if (shots > most_to_work_out) return;
    print("opened the first time, read through for damage", cost_of([&] { SeasonFile::open_to_read(path); }),
          by_s);
    print("opened again", cost_of([&] { SeasonFile::open_to_read(path); }), by_s);
    print("summary from file to words, opened again", cost_of([&] { summary_of(path); }), by_s);
    print("facts of all shots", cost_of([&] { SeasonFile::open_to_read(path).shot_facts(); }), by_s);
    print("the same figures as JSON, from the facts", cost_of([&] {
              const SeasonFile file = SeasonFile::open_to_read(path);
              summary_json(file.season(), file.shot_facts());
          }),
          by_s);
    measure_merge(path, shots, by_s);
}

std::int64_t number(const std::string& text) {
    std::int64_t value = 0;
    if (std::from_chars(text.data(), text.data() + text.size(), value).ec != std::errc{} || value < 1)
        throw std::runtime_error(text + " is no number of shots");
    return value;
}

} // namespace

int main(int argc, char** argv) {
    std::string name = (std::filesystem::temp_directory_path() / "season-bench-XXXXXX").string();
    const std::filesystem::path folder = ::mkdtemp(name.data());
    int status = 0;
    try {
        std::vector<std::int64_t> sizes;
        for (int i = 1; i < argc; ++i)
            sizes.push_back(number(argv[i]));
        if (sizes.empty()) sizes = {2'000, 100'000};
        for (const std::int64_t shots : sizes) {
            const auto path = folder / fmt::format("{}.season", shots);
            const Cost made = cost_of([&] { make_season(path, shots); });
            fmt::print("{} shots, {} MB, made in {:.1f} s of the processor, {:.1f} by the clock\n", shots,
                       std::filesystem::file_size(path) >> 20, made.processor_s, made.clock_s);
            std::fflush(stdout);
            measure(path, shots);
            std::filesystem::remove(path);
        }
    } catch (const std::exception& error) {
        fmt::print(stderr, "season_bench: {}\n", error.what());
        status = 1;
    }
    std::filesystem::remove_all(folder);
    return status;
}
