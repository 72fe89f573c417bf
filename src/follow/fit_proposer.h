// A rink fit from one picture's paint alone, worked out while the coach clicks.
#pragma once

#include "camera/rink_fit.h"
#include "follow/picture_work.h"

namespace ropeline {

/// Stops within a tenth of a second or so.
class FitProposer : public PictureWork<RinkFit> {
public:
    FitProposer(PicturePtr picture, FilmFacts facts, RuleBookId rules);
};

} // namespace ropeline
