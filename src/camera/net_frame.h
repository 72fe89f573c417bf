// The frame of the net, which stands up from the ice: seen from another place it leans another way.
#pragma once

#include "camera/picture_view.h"
#include "camera/turning_camera.h"
#include "rink/rule_book.h"

namespace ropeline {

enum class NetStands {
    unseen,    ///< out of the picture, hidden or too small
    here,      ///< posts and bar lie where this camera has them
    elsewhere, ///< they are seen, but not there: the camera stands elsewhere, or looks elsewhere
};

struct NetLook {
    NetStands stands = NetStands::unseen;
    int found = 0,
        expected = 0; ///< stretches of the frame that should be in the picture, and lie closely there
};

/// Looks for posts and crossbar of whichever net the camera has in its picture; more of them decide than speak against it.
NetLook look_for_net(const TurningCamera& camera, const RuleBook& rules, const PictureView& picture);

} // namespace ropeline
