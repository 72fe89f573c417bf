// The shot list as it stands in the window.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/bring_in.h"
#include "desk/state/layout.h"
#include "desk/state/shot_list.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace ropeline {

/// A cell whose choices are open.
struct OpenCell {
    Id shot_id;
    ShotColumn column{};
    Rect at{};
    bool opened = false;
};

struct ListPart {
    bool whole_page = false;
    bool find = false;   ///< the field that finds shots takes the keys from the next turn on
    bool typing = false; ///< it has them
    std::optional<OpenCell> open;
    std::optional<std::size_t> scrolled_to; ///< the shot
    std::vector<std::size_t> listed;        ///< see listed_shots()
    std::vector<FoundPlace> found;          ///< see found_places(); empty while a shot is open
    std::optional<std::uint64_t> revision;  ///< of the log, when both were worked out
    bool with_film = false;                 ///< a film was open then
};

/// Works out again which shots are listed and which the game clock finds, when something changed.
void refresh_list(ListPart& list, const LogState& log, const FrameTable* frames);

} // namespace ropeline
