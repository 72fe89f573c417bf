#include "film/film_error.h"
#include "film/film_reader.h"
#include "film/one_line.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <numeric>
#include <random>
#include <vector>

#include "verbs/verbs.h"

namespace ropeline {

namespace {

struct FilmCall {
    std::string clip, order;
    std::uint64_t seed = 1;
    std::int64_t count = -1; // all
    int stream = -1;
    bool hash = false, timing = false;
};

const char* name_of(ColourMatrix matrix) {
    switch (matrix) {
    case ColourMatrix::bt601:
        return "BT.601";
    case ColourMatrix::bt709:
        return "BT.709";
    case ColourMatrix::bt2020:
        return "BT.2020";
    }
    return "unknown";
}

double pts_seconds(const FrameTable& frames, FrameIndex frame) {
    const TimeBase base = frames.time_base();
    return static_cast<double>(frames.pts_of(frame).ticks) * base.numerator / base.denominator;
}

void print_facts(const FilmFacts& facts, const FrameTable& frames) {
    const FrameIndex last = frames.clamp(frames.count());
    fmt::print("# film {}\n# container {}\n# codec {} {}\n", one_line(facts.path), facts.container,
               facts.codec, facts.pixel_format);
    fmt::print("# size {}x{}, shown {}x{}, sample aspect {}:{}, rotation {}\n", facts.width_px,
               facts.height_px, facts.shown_width_px, facts.shown_height_px, facts.sample_aspect_numerator,
               facts.sample_aspect_denominator, facts.rotation_degrees);
    fmt::print("# colour {} {} range\n", name_of(facts.matrix), facts.full_range ? "full" : "limited");
    fmt::print("# frames {}\n# time base {}/{}\n# first {:.6f} s, last {:.6f} s, average rate {:.3f} Hz\n",
               frames.count(), facts.time_base.numerator, facts.time_base.denominator,
               pts_seconds(frames, FrameIndex{0}), pts_seconds(frames, last), facts.average_rate_hz);
    fmt::print("# bytes {}\n# fingerprint {}\n", facts.file_bytes, facts.fingerprint);
    for (const std::string& warning : facts.warnings)
        fmt::print("# warning {}\n", one_line(warning));
}

std::vector<std::int64_t> visits(const FilmCall& call, std::int64_t frames) {
    std::vector<std::int64_t> order(static_cast<std::size_t>(frames));
    std::iota(order.begin(), order.end(), 0);
    if (call.order == "backward") std::reverse(order.begin(), order.end());
    if (call.order == "shuffle") {
        std::mt19937_64 random(call.seed);
        for (std::size_t i = order.size(); i > 1; --i)
            std::swap(order[i - 1], order[random() % i]);
    }
    if (call.count >= 0 && call.count < frames) order.resize(static_cast<std::size_t>(call.count));
    return order;
}

void visit(FilmReader& film, const FilmCall& call) {
    std::int64_t missing = 0;
    for (const std::int64_t i : visits(call, film.frames().count())) {
        const FrameIndex frame{i};
        const auto start = std::chrono::steady_clock::now();
        std::string line = fmt::format("{} {:.6f}", i, pts_seconds(film.frames(), frame));
        try {
            const PicturePtr picture = film.picture(frame);
            const std::chrono::duration<double, std::milli> spent = std::chrono::steady_clock::now() - start;
            if (call.hash) line += ' ' + picture->md5();
            if (call.timing) line += fmt::format(" {:.3f}", spent.count());
        } catch (const FilmError& error) {
            if (error.fault != FilmFault::damaged) throw;
            ++missing;
            line = fmt::format("# missing {} {:.6f}", i, pts_seconds(film.frames(), frame));
        }
        fmt::print("{}\n", line);
    }
    if (missing > 0) fmt::print("# warning {} of the visited frames cannot be decoded\n", missing);
}

void run(const FilmCall& call) {
    FilmReader film(call.clip, {.stream = call.stream});
    print_facts(film.facts(), film.frames());
    if (!call.order.empty()) visit(film, call);
}

} // namespace

void add_film(CLI::App& app, Job& chosen) {
    const auto call = std::make_shared<FilmCall>();
    CLI::App* verb =
        app.add_subcommand("film", "Facts about a clip; with --order, every frame of it in that order");
    verb->add_option("clip", call->clip, "The film file")->required();
    CLI::Option* order =
        verb->add_option("--order", call->order, "Visit the frames: forward, backward or shuffle")
            ->check(CLI::IsMember({"forward", "backward", "shuffle"}));
    verb->add_option("--seed", call->seed, "Seed of the shuffle (1)")->needs(order);
    verb->add_option("--count", call->count, "Visit only this many frames")
        ->needs(order)
        ->check(CLI::NonNegativeNumber);
    verb->add_option("--stream", call->stream, "Which picture stream, from 0, where the film has several")
        ->check(CLI::NonNegativeNumber);
    verb->add_flag("--hash", call->hash, "Print the MD5 of each picture's raw planes")->needs(order);
    verb->add_flag("--timing", call->timing, "Print the milliseconds each picture took")->needs(order);
    verb->callback([call, &chosen] { chosen = [call] { run(*call); }; });
}

} // namespace ropeline
