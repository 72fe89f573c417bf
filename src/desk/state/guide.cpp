#include "desk/state/guide.h"

#include <algorithm>
#include <cstdlib>

namespace ropeline {

Guide begin_guide(const LogState& log, std::size_t answers) {
    Guide guide;
    for (const ShotEntry& entry : log.shots)
        guide.shots.insert(entry.shot.id);
    guide.answers = answers;
    return guide;
}

Guide stepped_to(Guide guide, std::int64_t frame) {
    if (guide.frame >= 0 && std::abs(frame - guide.frame) == 1) ++guide.stepped;
    guide.frame = frame;
    return guide;
}

std::array<GuideStep, guide_length> guide_steps(const Guide& guide, const LogState& log,
                                                std::size_t answers) {
    constexpr int steps_to_try = 5;
    const auto any_new = [&](auto&& holds) {
        return std::ranges::any_of(log.shots, [&](const ShotEntry& entry) {
            return !guide.shots.contains(entry.shot.id) && holds(entry);
        });
    };
    const bool fitted =
        std::ranges::any_of(log.fits, [](const StoredFit& fit) { return fit.carried_from.empty(); });
    const bool marked = any_new([](const ShotEntry& entry) {
        const Moment* moment = main_moment(entry);
        return moment && moment->reading;
    });
    const bool filled = any_new([](const ShotEntry& entry) { return open_fields(entry).empty(); });
    return {{
        {"Go to the shot",
         "[run_film] runs the film and holds it. [frame_on] and [frame_back] go one frame on and back: step "
         "to the frame where the puck leaves the stick.",
         guide.stepped >= steps_to_try},
        {"Fit the rink",
         "[fit_rink] asks for one painted point after another: click each where it lies on the ice, "
         "[other_landmark] passes over one you cannot see. Six or more, then [take_shot]. The rink is "
         "followed from there.",
         fitted},
        {"Mark goalie and puck",
         "[new_shot] begins a shot on this frame. Click both skates, the puck, and an opponent a pass could "
         "reach. The loupe shows the spot; a mark can be dragged, or nudged with [nudge_left] [nudge_right].",
         marked},
        {"Fill in the card",
         "The numbers choose on the line that is lit: what the goalie read, what came, and so on down to the "
         "outcome. [take_shot] takes the shot; depth and verdict then stand over the picture.",
         filled},
        {"Let the goalie call one",
         "[side_study] opens Study: say who answers, then [take_shot] opens a decision. The film runs up and "
         "stops: call shot or pass, click on the plan where to stand, then the play runs on with the answer.",
         answers > guide.answers},
    }};
}

} // namespace ropeline
