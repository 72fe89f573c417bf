// What a change of the log works on: the season file, the state over it, and where the film stands.
#pragma once

#include "desk/state/frame_at.h"
#include "desk/state/log_state.h"
#include "season/season_file.h"

#include <functional>
#include <string>
#include <string_view>

namespace ropeline {

struct LogContext {
    SeasonFile& file;
    LogState& state;
    FrameAt at;
    const std::function<void(double)>& progress; ///< may be empty

    /// Commands in brackets are said by their keys.
    void tell(std::string_view text, bool trouble = false) const;
    void tell_nothing() const { state.notice = {}; }
};

// The same as chosen_shot() and moment_in_hand(), to be changed.
ShotEntry* shot_to_change(LogState& state);
Moment* moment_to_change(LogState& state);
std::string shot_name(const LogState& state); ///< "shot 3"

constexpr const char* no_shot_is_open = "No shot is open: press [new_shot] to log one at this frame.";
constexpr const char* no_film_is_open = "Open a film first: drop one on the desk, or press [games].";
constexpr const char* fit_is_being_made =
    "A rink fit is being made on this film: [take_shot] keeps it, [put_down] leaves it.";

} // namespace ropeline
