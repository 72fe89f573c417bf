// What the built program takes to carry a fit through a film, decoding included, and to answer a measure
// request: frames a second, milliseconds, and the peak memory of the process.
#include "camera/carry.h"
#include "carry/filmed.h"
#include "demo/filming.h"
#include "film/film_writer.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

using namespace ropeline;

namespace {

namespace fs = std::filesystem;

struct Run {
    double seconds = 0.0, peak_mib = 0.0;
};

/// A program with its input and output in files.
/// Throws  std::runtime_error when it fails.
Run run_program(const std::string& program, const std::vector<std::string>& arguments, const fs::path& in,
                const fs::path& out) {
    const auto started = std::chrono::steady_clock::now();
    const pid_t child = fork();
    if (child < 0) throw std::runtime_error("no process can be started");
    if (child == 0) {
        if (!std::freopen(in.c_str(), "r", stdin) || !std::freopen(out.c_str(), "w", stdout)) _exit(1);
        std::vector<char*> words{const_cast<char*>(program.c_str())};
        for (const std::string& argument : arguments)
            words.push_back(const_cast<char*>(argument.c_str()));
        words.push_back(nullptr);
        execvp(program.c_str(), words.data());
        _exit(1);
    }
    int status = 0;
    rusage used{};
    wait4(child, &status, 0, &used);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - started;
    if (!WIFEXITED(status) || WEXITSTATUS(status) != 0)
        throw std::runtime_error(fmt::format("{} {} failed", program, fmt::join(arguments, " ")));
    return {took.count(), static_cast<double>(used.ru_maxrss) / 1024.0};
}

std::string clicks_of(const demo::PinholeCamera& camera) {
    std::string clicks;
    for (const LandmarkClick& click : clicks_in_sight(camera, 1.0)) {
        clicks +=
            fmt::format("{}{{\"at\": [{:.2f}, {:.2f}], \"point\": [{}, {}]}}", clicks.empty() ? "" : ", ",
                        click.at.x_px, click.at.y_px, click.point.x_m, click.point.y_m);
    }
    return fmt::format("\"rink\": \"nhl\", \"image\": [{}, {}], \"landmarks\": [{}]", camera.size.width_px,
                       camera.size.height_px, clicks);
}

void write(const fs::path& path, const std::string& text) {
    std::ofstream file(path);
    file << text;
}

/// Panning up to 30 degrees a second, zooming by a half, players over the lines.
FilmedShot shot(ImageSize size, int frames) {
    const double scale = size.width_px / 1280.0;
    const auto aim = [scale](double s) {
        return Aim{{-1.0, 6.0 + 3.5 * std::sin(3.0 * s)},
                   scale * 1000.0 * std::pow(1.5, 0.5 - 0.5 * std::cos(1.6 * s))};
    };
    return {{-19.5, 13.0, 9.6}, aim, frames, 60, {.size = size, .keeps_size = true}};
}

void carry(const fs::path& folder, ImageSize size, int frames) {
    const FilmedShot made = shot(size, frames);
    const fs::path film = folder / "film.mp4", fit = folder / "fit.json", lines = folder / "lines";
    FilmWriter writer(
        film.string(),
        {.width_px = size.width_px, .height_px = size.height_px, .crf = 22, .preset = "veryfast"});
    for (int frame = 0; frame < frames; ++frame)
        writer.add(made.picture(frame).rgb);
    writer.finish();
    write(fit, fmt::format("{{\"frame\": 0, {}}}", clicks_of(made.camera(0))));
    std::vector<Run> runs;
    for (int i = 0; i < 3; ++i)
        runs.push_back(run_program(ROPELINE_PROGRAM, {"carry", film.string(), "--fit", fit.string()},
                                   "/dev/null", lines));
    const Run best = *std::ranges::min_element(runs, {}, &Run::seconds);
    fmt::print("carry {} x {}: {:.1f} frames a second, best of three, decoding and start included; peak "
               "{:.0f} MiB\n",
               size.width_px, size.height_px, frames / best.seconds, best.peak_mib);
}

/// Processor's time of a frame while another camera is on, so that the fit is searched for.
void lost() {
    const FilmedShot fitted = shot({1280, 720}, 40);
    const FilmedShot other({20.0, 18.0, 13.0},
                           [](double s) {
                               return Aim{{0.4, 9.4 + s}, 1480.0};
                           },
                           60, 120, {.size = {1280, 720}, .keeps_size = true});
    Carrier carrier(clicked_fit(fitted.camera(0), 1.0), rule_book(demo::demo_rules));
    for (int frame = 0; frame < fitted.count(); ++frame) {
        const demo::Canvas picture = fitted.picture(frame);
        frame == 0 ? carrier.start(view_of(picture)) : carrier.next(view_of(picture));
    }
    std::vector<double> ms;
    for (int frame = 0; frame < other.count(); ++frame) {
        const demo::Canvas picture = other.picture(frame);
        const std::clock_t started = std::clock();
        carrier.next(view_of(picture));
        ms.push_back(1e3 * static_cast<double>(std::clock() - started) / CLOCKS_PER_SEC);
    }
    double sum = 0.0;
    for (const double one : ms)
        sum += one;
    fmt::print("lost 1280 x 720: {:.1f} ms of the processor a frame, longest {:.1f} ms\n",
               sum / static_cast<double>(ms.size()), *std::ranges::max_element(ms));
}

void measure(const fs::path& folder) {
    const FilmedShot made = shot({1920, 1080}, 1);
    const fs::path request = folder / "request.json", answer = folder / "answer.json";
    write(request,
          fmt::format("{{{}, \"points\": [[900, 500]], \"moments\": [{{\"puck\": [700, 600], \"skates\": "
                      "[[1010, 652], [1040, 648]], \"threats\": [{{\"at\": [500, 700]}}]}}]}}",
                      clicks_of(made.camera(0))));
    constexpr int runs = 51;
    std::vector<double> measured_s, nothing_s; // turn about, so that both see the same machine
    for (int i = 0; i < runs; ++i) {
        measured_s.push_back(run_program(ROPELINE_PROGRAM, {"measure"}, request, answer).seconds);
        nothing_s.push_back(run_program("true", {}, request, answer).seconds);
    }
    const auto median_ms = [](std::vector<double> seconds) {
        std::ranges::sort(seconds);
        return 1e3 * seconds[runs / 2];
    };
    fmt::print("measure: {:.1f} ms a whole process, median of {}; `true` in the same run {:.1f} ms\n",
               median_ms(measured_s), runs, median_ms(nothing_s));
}

} // namespace

int main() {
    std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ); // what is printed must not be printed again by a fork
    const fs::path folder = fs::temp_directory_path() / fmt::format("carry_bench_{}", getpid());
    fs::create_directories(folder);
    int status = 0;
    try {
        measure(folder);
        lost();
        carry(folder, {1280, 720}, 300);
        carry(folder, {1920, 1080}, 300);
    } catch (const std::exception& error) {
        fmt::print(stderr, "{}\n", error.what());
        status = 1;
    }
    fs::remove_all(folder);
    return status;
}
