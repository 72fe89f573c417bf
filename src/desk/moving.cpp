// A shot is moved to another frame: its sign dragged along the ribbon, or by a key. What that costs is said first.
#include "desk/commands.h"

#include "desk/state/changes/placing.h"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace ropeline {

void ask_to_move(App& app, const Id& shot_id, const FrameAt& to) {
    const LogState& log = app.log.state();
    const auto entry =
        std::ranges::find(log.shots, shot_id, [](const ShotEntry& one) { return one.shot.id; });
    if (entry == log.shots.end()) return;
    if (entry->shot.frame == to.frame)
        return tell(
            app, "This shot is at this frame already: step to another, then [shot_is_here] moves it there.",
            true);
    app.stage.player.playing = false;
    const std::size_t marks = marks_left_behind(*entry);
    if (marks == 0) return ask(app, MoveShot{shot_id, to});
    app.pages.moving = MovingShot{
        shot_id, to,
        fmt::format("Move shot {} from frame {} to frame {}?", entry - log.shots.begin() + 1,
                    entry->shot.frame, to.frame),
        fmt::format(
            "{} made on frame {} and would lie wrong on the other: {}. The card stays, and [undo] brings "
            "all of it back.",
            marks == 1 ? "Its mark was" : fmt::format("Its {} marks were", marks), entry->shot.frame,
            marks == 1 ? "it goes" : "they go")};
}

void move_as_asked(App& app) {
    const auto moving = std::exchange(app.pages.moving, std::nullopt);
    if (moving) ask(app, MoveShot{moving->shot_id, moving->to});
}

} // namespace ropeline
