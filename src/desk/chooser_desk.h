// The chooser while it is open, and what it waits for.
#pragma once

#include "desk/state/chooser.h"
#include "desk/state/detached_work.h"

#include <optional>
#include <string>
#include <vector>

namespace ropeline {

struct PlacesFound {
    std::vector<StartingPlace> places;
    bool zenity = false; ///< the system can show a window of its own
};

struct ChooserDesk {
    Chooser chooser;
    bool to_field = false; ///< the field takes the keys, with the cursor at its end
    bool system_has_one = false;
    std::optional<std::filesystem::path> asked; ///< the folder that was last asked for
    std::optional<DetachedWork<FolderListing>> reading;
    std::optional<DetachedWork<PlacesFound>> finding_places;
    std::optional<DetachedWork<std::string>> system_window; ///< what was chosen in it; empty: nothing
};

} // namespace ropeline
