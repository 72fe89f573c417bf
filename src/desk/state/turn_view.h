// What the desk shows of the log in one turn, worked out once: panels only draw it.
#pragma once

#include "desk/state/close_up.h"
#include "desk/state/frame_at.h"
#include "desk/state/ghosts.h"
#include "desk/state/judged.h"
#include "desk/state/left_curve.h"
#include "desk/state/rink_here.h"
#include "sheet/ice_drawing.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace ropeline {

/// All that a view follows from, the log itself by its revision: a view stands as long as this does.
struct TurnOf {
    std::uint64_t revision = 0;           ///< of the log
    std::int64_t frame = 0;               ///< of the film on screen
    ImageSize image;                      ///< its picture's size
    std::optional<IcePoint> tried;        ///< the goalie dragged on the plan: what if he had stood here
    LengthUnit unit = LengthUnit::metres; ///< lengths are said in

    friend bool operator==(const TurnOf& one, const TurnOf& other);
};

struct TurnView {
    TurnOf of;
    FitHere here;                 ///< the rink in this frame; of the fit being made nothing is in here
    RuleBookId rules{};           ///< the plan is drawn by: of the fit being made, else of this frame
    std::optional<Moment> moment; ///< in hand, with the goalie where he is tried
    bool in_this_frame = false;   ///< the moment's marks belong to it
    FitHere moment_fit;           ///< the rink as it lies for the moment, on whichever film it is
    RuleBookId moment_rules{};
    Parameters parameters; ///< the season's, with the own figures of the goalie in hand
    std::optional<Judged> judged;
    std::optional<LeftCurve> left; ///< net left along the puck line; none on the post
    std::optional<Firmness> firmness;
    bool firmness_known = false;    ///< false: still to be worked out, once nothing is dragged
    std::optional<PictureBox> play; ///< where net, goalie and puck of the opened moment are in this frame
    NetAt plan_net = NetAt::bottom; ///< the plan lies as the film lies
    std::vector<IceLine> lines;     ///< on the ice for the moment, the decision's among them
    std::vector<Ghost> ghosts;      ///< every faint mark that can lie here
    std::vector<Ghost> asked;       ///< those the hand asks for; none when it is empty
};

/// In      `of`: its revision must be that of `state`.
/// Out     valid as long as the revision stands: it points into the state.
TurnView turn_view(const LogState& state, const TurnOf& of);

/// Where the net lies on a plan that lies as the picture does.
NetAt plan_net_of(const RinkFit& fit);

/// How firm the verdict is, and the figures with that in them: from the view before when it was of the same.
void take_firmness(const LogState& state, const TurnView& before, TurnView& view);
/// Or worked out, unless it is known: some ten milliseconds, which the path of a drag has no time for.
void work_out_firmness(const LogState& state, TurnView& view);

} // namespace ropeline
