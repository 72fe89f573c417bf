// The rink of one frame, looked for by the fits of the film's other frames.
#pragma once

#include "camera/find_rink.h"
#include "follow/picture_work.h"

#include <vector>

namespace ropeline {

/// Cannot be stopped: it takes a second or so.
class RinkFinder : public PictureWork<FoundRink> {
public:
    RinkFinder(PicturePtr picture, FilmFacts facts, std::vector<RinkFit> fits, RuleBookId rules);
};

} // namespace ropeline
