// What is drawn on the ice for a moment, as plain lines in metres: the film view maps them through the rink
// fit, the plan scales them, and both show the same thing.
#pragma once

#include "camera/rink_fit.h"
#include "rink/paint.h"
#include "season/records.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace ropeline {

enum class IceLineKind {
    rope,      ///< post to puck: what the puck sees
    puck_line, ///< middle of the net to puck
    band,      ///< a stretch of the puck line, one per band
    depth,     ///< middle of the net to the goalie's place on the puck line
    off_angle, ///< from there to the goalie
    stance,    ///< skate to skate
    block,     ///< the blocking width in front of the puck
    shadow,    ///< what the goalie hides of the goal line
    opening,   ///< what is open of it, labelled with its length
    pass,      ///< puck to an opponent, labelled with the time left over
    lost_pass, ///< the same where the time does not suffice
    reach,     ///< the puck line as far out as every pass still allows
    advised,   ///< a short bar across the puck line where the goalie should be
};

struct IceLine {
    IceLineKind kind{};
    std::vector<IcePoint> points;
    std::optional<Band> band; ///< of a band stretch
    std::string label;        ///< short, to stand at the middle of the line
};

/// Lines for whatever the moment has: nothing without a puck on the ice, ropes with one, depth with a goalie.
std::vector<IceLine> moment_lines(const Moment& moment, const RuleBook& rules, const Parameters& parameters);

struct Judged;
/// What the decision adds to them.
std::vector<IceLine> decision_lines(const Judged& judged, const RuleBook& rules);

/// The goalie's place: the middle of the skates, else the single mark; nothing when not on the ice yet.
std::optional<IcePoint> goalie_place(const Moment& moment);

/// One line of paint as it lies in the picture, in pieces that stay in front of the camera.
std::vector<std::vector<ImagePoint>> in_picture(const RinkFit& fit, const std::vector<IcePoint>& line,
                                                ImageSize image);

} // namespace ropeline
