// season_bench [SHOTS ...]: what a season of so many shots costs to open, to read, to sum up and to merge, each beside the same
// GROUP BY in the sqlite3 shell. README.md has the figures.
#include "bench/made_season.h"
#include "season/season_file.h"
#include "sheet/summary.h"
#include "unite/merge.h"

#include <SQLiteCpp/Statement.h>
#include <fmt/core.h>
#include <sys/resource.h>

#include <charconv>
#include <chrono>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace {

using namespace ropeline;

constexpr const char* group_by =
    "SELECT goalie, band, count(*), sum(on_goal), sum(saved), avg(clearance_m) FROM "
    "shot_facts GROUP BY goalie, band";

double seconds_of(const std::function<void()>& body) {
    const auto start = std::chrono::steady_clock::now();
    body();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double most_memory_mb() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

void print(const char* what, double seconds, double by) {
    fmt::print("  {:<52} {:>9.1f} ms {:>7.2f} x\n", what, 1000.0 * seconds, seconds / by);
    std::fflush(stdout);
}

void measure(const std::filesystem::path& path, std::int64_t shots) {
    fmt::print("{} shots, {} MB\n", shots, std::filesystem::file_size(path) >> 20);
    const std::string shell = fmt::format("sqlite3 -readonly '{}' '{}' > /dev/null", path.string(), group_by);
    const double by = seconds_of([&] {
        if (std::system(shell.c_str()) != 0) throw std::runtime_error("sqlite3 did not run");
    });
    print("the same GROUP BY in the sqlite3 shell", by, by);
    std::vector<ShotFact> facts;
    Season season;
    print("opened the first time, read through for damage",
          seconds_of([&] { SeasonFile::open_to_read(path); }), by);
    print("opened again", seconds_of([&] { SeasonFile::open_to_read(path); }), by);
    if (shots > 1'000'000) return;
    const SeasonFile file = SeasonFile::open_to_read(path);
    print("facts of all shots", seconds_of([&] { facts = file.shot_facts(); }), by);
    print("summary in words, from the facts", seconds_of([&] { summary_text(file.season(), facts, ""); }),
          by);
    print("summary from file to words", seconds_of([&] {
              const SeasonFile again = SeasonFile::open_to_read(path);
              summary_text(again.season(), again.shot_facts(), "");
          }),
          by);
    const auto other = path.parent_path() / "other.season", both = path.parent_path() / "both.season";
    make_season(other, shots, 2);
    print("merged with another of that size", seconds_of([&] {
              merge_seasons(path, other, both, [](const MergeConflict&) { return Keep::newer; });
          }),
          by);
    std::filesystem::remove(other);
    std::filesystem::remove(both);
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
            fmt::print("made in {:.1f} s: ", seconds_of([&] { make_season(path, shots); }));
            measure(path, shots);
            fmt::print("  most memory so far {:.0f} MB\n", most_memory_mb());
            std::filesystem::remove(path);
        }
    } catch (const std::exception& error) {
        fmt::print(stderr, "season_bench: {}\n", error.what());
        status = 1;
    }
    std::filesystem::remove_all(folder);
    return status;
}
