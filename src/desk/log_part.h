// The log on the desk: the book, what the mouse does to it, and what is worked out from it to be drawn.
#pragma once

#include "desk/state/log_book.h"
#include "desk/state/right_click.h"
#include "desk/state/turn_view.h"

#include <optional>
#include <string>

namespace ropeline {

/// A mark or a landmark click that follows the mouse.
struct Drag {
    std::optional<std::size_t> mark; ///< among the moment's marks
    std::optional<std::size_t> click;
    ImagePoint offset; ///< from the cursor to the mark when it was taken
};

struct LogPart {
    std::optional<LogBook> book;
    std::optional<Drag> drag;
    std::optional<IcePoint>
        tried;           ///< the goalie dragged on the plan, kept nowhere: what if he had stood here
    bool trying = false; ///< he is being dragged there
    std::optional<double> progress;   ///< share done of the work that holds the desk up
    TurnView view;                    ///< of the frame that is seen; only drawn
    bool viewed = false;              ///< it is worked out
    std::optional<RightClicked> menu; ///< where the right button was clicked, while its menu is open
    bool menu_open = false;
    std::string undo_name; ///< what undo would take back; empty: nothing

    const LogState& state() const { return book->state(); }
};

/// Works out again what is drawn if anything that it rests on has changed. How firm the verdict is follows in a
/// turn in which nothing did and nothing is dragged.
/// Out     true while that is still to come.
bool view_again(LogPart& log, std::int64_t frame_seen, ImageSize image, LengthUnit unit);

} // namespace ropeline
