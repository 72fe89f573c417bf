// Where the film view is on its way to: in on a play, or out to the whole picture; and whether the coach has taken it in
// his own hand since. Pure: the time goes in.
#pragma once

#include "desk/state/close_up.h"

namespace ropeline {

constexpr double move_in_s = 0.15;

struct ViewAim {
    bool close = false;        ///< in on a play
    bool whole_wanted = false; ///< the coach wants the whole picture of this moment
    bool by_hand = false;      ///< magnified or moved by the coach: it stays so until another play opens
    Id moment_id;              ///< that was moved in on
    FilmView from;             ///< where the way began
    double share = 1.0;        ///< of the way
    FilmView put;              ///< what was last put on screen: anything else is the coach's hand
    bool on_its_way() const { return share < 1.0; }
};

/// Puts the view where it belongs in this turn.
/// In      `play`: null when no moment is opened in this frame; `moves`: else it jumps
void aim_view(ViewAim& aim, FilmView& view, const PictureBox* play, const Id& moment_id, bool moves);
/// The whole picture, or in on the play again.
void turn_to_whole(ViewAim& aim, const FilmView& view);
void pass_view_time(ViewAim& aim, double elapsed_s);

} // namespace ropeline
