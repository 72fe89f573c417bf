// The figures of the depth model as they hold for one goalie: his own where they are known, else the season's.
#pragma once

#include "season/records.h"

namespace ropeline {

/// Out     the season's parameters with the blocking width and the lateral speed of the goalie of that id, where the
///         season knows them. His height is kept for the reader: how high a block of his reaches is no function of it.
Parameters parameters_of(const Parameters& season, const std::vector<Goalie>& goalies, const Id& goalie_id);

} // namespace ropeline
