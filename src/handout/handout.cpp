#include "handout/handout.h"

#include "depth/play.h"
#include "season/play.h"
#include "season/whole_file.h"

#include <fmt/core.h>

#include <algorithm>
#include <chrono>

namespace ropeline {
namespace {

namespace fs = std::filesystem;

/// The play around the asked moment: what the film shows up to the call, and from it on.
ShownPlay up_to_call(ShownPlay play, const ShownMoment* asked) {
    if (asked) {
        const ShownMoment one = *asked;
        play.moments = {one};
    }
    return play;
}
ShownPlay from_call(ShownPlay play, const ShownMoment* asked) {
    if (asked) {
        const int from = asked->moment.ordinal;
        std::erase_if(play.moments, [&](const ShownMoment& shown) { return shown.moment.ordinal < from; });
    }
    return play;
}

ReelOptions clip_options(const ShownPlay& play, const HandoutOptions& options, bool answer) {
    ReelOptions clip;
    const double wide = std::max(1, play.film.shown.width_px), high = std::max(1, play.film.shown.height_px);
    const double scale = std::min(1.0, options.clip_height_px / high);
    clip.width_px = std::max(2, static_cast<int>(wide * scale) / 2 * 2);
    clip.height_px = std::max(2, static_cast<int>(high * scale) / 2 * 2);
    clip.preset = options.preset;
    clip.crf = 23;
    clip.words = false;
    clip.larger = 1.7;
    clip.captions = false;
    clip.timing.card_s = 0.0;
    clip.draw = answer;
    if (answer) {
        clip.timing.run_up_s = 0.0;
        clip.timing.freeze_s = 3.0;
        clip.timing.after_s = 2.0;
        clip.timing.speed_on = 0.5;
    } else {
        clip.timing.stops = ReelTiming::Stops::none;
        clip.timing.run_up_s = options.run_up_s;
        clip.timing.after_s = -options.stops_before_s;
    }
    return clip;
}

/// What was written, taken away again unless all of it was.
class Written {
public:
    explicit Written(fs::path folder) : folder_(std::move(folder)) {}
    ~Written() {
        if (keep_) return;
        std::error_code ignored;
        for (const fs::path& file : files_)
            fs::remove(file, ignored);
        fs::remove(folder_ / "clips", ignored); // only when empty
        fs::remove(folder_, ignored);
    }
    Written(const Written&) = delete;
    Written& operator=(const Written&) = delete;
    void add(const fs::path& file) { files_.push_back(file); }
    void keep() { keep_ = true; }

private:
    fs::path folder_;
    std::vector<fs::path> files_;
    bool keep_ = false;
};

/// A folder of its own: what a goalie takes home holds nothing else.
void make_folder(const fs::path& folder) {
    std::error_code code;
    if (fs::exists(folder, code) && !fs::is_empty(folder, code))
        throw ReelError(
            fmt::format("{} is not an empty folder; give the handout one of its own", folder.string()));
    fs::create_directories(folder / "clips", code);
    if (code) throw ReelError(fmt::format("cannot make the folder {}: {}", folder.string(), code.message()));
}

} // namespace

const ShownMoment* asked_moment(const ShownPlay& play) {
    const ShownMoment* asked = nullptr;
    if (play.shot.came == NextAction::pass) {
        for (const ShownMoment& shown : play.moments)
            if (shown.moment.kind == MomentKind::pass && shown.decision) asked = &shown;
    }
    if (asked) return asked;
    const ShownMoment* main = main_moment(play);
    return main && main->decision ? main : nullptr;
}

std::optional<LeftGrid> left_grid(const ShownPlay& play, const ShownMoment& shown) {
    std::vector<Moment> moments;
    for (const ShownMoment& one : play.moments)
        moments.push_back(one.moment);
    const auto asked = asked_of(play.shot, moments, shown.moment);
    if (!asked || !shown.decision || !shown.decision->advice) return std::nullopt;
    const Play weighed = play_of(play_marks(asked->moment), rule_book(shown.rules), play.parameters);
    LeftGrid grid;
    grid.best = shown.decision->advice->left_best;
    for (int row = 0; row < grid.out; ++row) {
        for (int column = 0; column < grid.across; ++column)
            grid.left.push_back(
                net_left(weighed, {grid.left_m + column * grid.step_m, grid.near_m + row * grid.step_m}));
    }
    return grid;
}

std::string clip_name(std::size_t index, bool answer) {
    return fmt::format("clips/{:03}-{}.mp4", index + 1, answer ? "answer" : "call");
}

ReelEnd make_handout(const std::vector<ShownPlay>& plays, std::span<const ShotFact> facts,
                     const fs::path& folder, const HandoutOptions& options, const Going& going) {
    if (plays.empty()) throw ReelError("there is no shot on film to hand out");
    make_folder(folder);
    Written written(folder);
    const std::string page = handout_page(plays, facts, options);
    const double clips = 2.0 * static_cast<double>(plays.size());
    double done = 0.0;
    ReadThrough known;
    const auto start = std::chrono::steady_clock::now();
    for (std::size_t index = 0; index < plays.size(); ++index) {
        const ShownMoment* const asked = asked_moment(plays[index]);
        for (const bool answer : {false, true}) {
            const fs::path clip = folder / clip_name(index, answer);
            written.add(clip);
            const std::vector<ShownPlay> one{answer ? from_call(plays[index], asked)
                                                    : up_to_call(plays[index], asked)};
            const Going one_of_many = [&](double of_clip, double) {
                const double share = (done + of_clip) / clips;
                const double passed =
                    std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
                return !going || going(share, passed * (1.0 - share) / share);
            };
            if (make_reel(one, clip.string(), clip_options(plays[index], options, answer), one_of_many,
                          known) == ReelEnd::stopped)
                return ReelEnd::stopped;
            done += 1.0;
        }
    }
    written.add(folder / "index.html");
    write_whole_file(folder / "index.html", page);
    written.keep();
    return ReelEnd::made;
}

} // namespace ropeline
