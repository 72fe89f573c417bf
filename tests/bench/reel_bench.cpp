// How fast a reel is written, against the ffmpeg command line on the same frames with the same preset and threads, in turns.
// Usage: reel_bench FOLDER [SECONDS]
#include "film/clips.h"
#include "film/film_reader.h"
#include "reel/reel.h"

#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <functional>
#include <string>
#include <sys/resource.h>
#include <vector>

namespace {

using namespace ropeline;

double seconds_of(const std::function<void()>& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double processor_s(int who) {
    rusage used{};
    getrusage(who, &used);
    const auto in_s = [](const timeval& time) {
        return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
    };
    return in_s(used.ru_utime) + in_s(used.ru_stime);
}

double median(std::vector<double> values) {
    std::ranges::sort(values);
    return values[values.size() / 2];
}

/// One play that is the whole film, with the rink over it where `rink`.
ShownPlay whole_film(const std::string& path, std::int64_t frames, bool rink) {
    ShownPlay play;
    play.film_path = path;
    play.film.id = "film";
    play.shot.frame = frames - 1;
    if (!rink) return play;
    StoredFit fit;
    fit.id = "fit";
    fit.rules = RuleBookId::nhl;
    std::vector<LandmarkClick> clicks;
    for (const IcePoint at : {IcePoint{-0.9, 0.0}, IcePoint{0.9, 0.0}, IcePoint{-6.7, 6.1},
                              IcePoint{6.7, 6.1}, IcePoint{-4.0, 17.0}, IcePoint{5.0, 15.0}}) {
        const double away = 1.0 + 0.03 * at.y_m;
        clicks.push_back({{960.0 + 110.0 * at.x_m / away, (950.0 + 6.0 * at.y_m) / away}, at, {}});
    }
    fit.fit = fit_rink(clicks, {1920, 1080});
    play.known = std::make_shared<const KnownFilm>(KnownFilm{{fit}, {}, {}});
    return play;
}

} // namespace

int main(int argc, char** argv) {
    if (argc < 2) {
        fmt::print(stderr, "reel_bench FOLDER [SECONDS]\n");
        return 2;
    }
    const std::string folder = argv[1], film = folder + "/bench.mp4", ours = folder + "/ours.mp4",
                      theirs = folder + "/theirs.mp4";
    const int length_s = argc > 2 ? std::stoi(argv[2]) : 15;
    clips::ffmpeg(fmt::format("-f lavfi -i testsrc2=s=1920x1080:r=30:d={},noise=alls=8:allf=t -c:v libx264 "
                              "-preset veryfast -crf 20 -pix_fmt yuv420p "
                              "-colorspace bt709 -color_primaries bt709 -color_trc bt709 -color_range tv {}",
                              length_s, clips::quoted(film)));
    const std::int64_t frames = FilmReader(film).frames().count();
    ReelOptions options;
    options.timing = {.run_up_s = 1.0e6, .after_s = 0.0, .card_s = 0.0, .stops = ReelTiming::Stops::none};
    options.sound = options.captions = false;
    options.threads = 2;
    std::vector<double> ratios, processor_ratios, rink_ratios;
    for (int turn = 0; turn < 3; ++turn) {
        const double own_before = processor_s(RUSAGE_SELF);
        const double our_s = seconds_of([&] { make_reel({whole_film(film, frames, false)}, ours, options); });
        const double own = processor_s(RUSAGE_SELF) - own_before, child_before = processor_s(RUSAGE_CHILDREN);
        const double their_s = seconds_of([&] {
            clips::ffmpeg(
                fmt::format("-i {} -an -c:v libx264 -preset {} -crf {} -threads 2 -movflags +faststart {}",
                            clips::quoted(film), options.preset, options.crf, clips::quoted(theirs)));
        });
        ratios.push_back(their_s / our_s);
        processor_ratios.push_back((processor_s(RUSAGE_CHILDREN) - child_before) / own);
        ReelOptions with_rink = options;
        with_rink.rink_while_running = true;
        rink_ratios.push_back(
            their_s / seconds_of([&] { make_reel({whole_film(film, frames, true)}, ours, with_rink); }));
        fmt::print("{} frames of 1920x1080: ours {:.2f} s, ffmpeg {:.2f} s\n", frames, our_s, their_s);
    }
    rusage used{};
    getrusage(RUSAGE_SELF, &used);
    fmt::print("rate, of ffmpeg's: {:.2f} (processor {:.2f}); with the rink drawn on every frame {:.2f}; "
               "most memory {} MiB\n",
               median(ratios), median(processor_ratios), median(rink_ratios), used.ru_maxrss / 1024);
}
