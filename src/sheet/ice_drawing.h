// What is drawn on the ice for a moment, as plain lines in metres: the film view maps them through the rink
// fit, the plan scales them, and both show the same thing.
#pragma once

#include "camera/rink_fit.h"
#include "rink/paint.h"
#include "season/play.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace ropeline {

enum class IceLineKind {
    rope,        ///< post to puck: what the puck sees
    puck_line,   ///< middle of the net to puck
    band,        ///< a stretch of the puck line, one per band
    depth,       ///< middle of the net to the goalie's place on the puck line
    off_angle,   ///< from there to the goalie
    stance,      ///< skate to skate
    block,       ///< the blocking width in front of the puck
    shadow,      ///< what the goalie hides of the goal line
    opening,     ///< what is open of it
    pass,        ///< puck to a receiver, labelled with the time to spare
    lost_pass,   ///< the same where the goalie is late, labelled with how much
    advised,     ///< the advised stretch of the puck line
    advised_end, ///< a short bar across it at either end
};

struct IceLine {
    IceLineKind kind{};
    std::vector<IcePoint> points;
    std::optional<Band> band; ///< of a band stretch
    std::string label;        ///< short, to stand at the middle of the line
};

/// Lines for whatever the moment has: nothing without a puck on the ice, ropes with one, depth with a goalie.
std::vector<IceLine> moment_lines(const Moment& moment, const RuleBook& rules, const Parameters& parameters);

/// "0.21 s late", "0.12 s to spare", "just in time".
std::string in_time_words(const ThreatReading& pass);
/// "A" for the first that is marked.
std::string receiver_letter(std::size_t index);
/// "pass to A: 0.21 s late", "tip by B: 0.12 s to spare".
std::string pass_words(ReceiverKind kind, std::size_t index, const ThreatReading& pass);
/// What the decision adds to them. A pass is labelled with its words.
std::vector<IceLine> decision_lines(const AskedMoment& asked, const Decision& decision,
                                    const RuleBook& rules);

/// The goalie's place: the middle of the skates, else the single mark; nothing when not on the ice yet.
std::optional<IcePoint> goalie_place(const Moment& moment);

/// One line of paint as it lies in the picture, in pieces that stay in front of the camera.
std::vector<std::vector<ImagePoint>> in_picture(const RinkFit& fit, const std::vector<IcePoint>& line,
                                                ImageSize image);

} // namespace ropeline
