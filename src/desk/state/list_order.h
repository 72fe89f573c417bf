// How the shot list is sorted, and which shots it shows; see shot_list.h.
#pragma once

#include "season/details.h"
#include "tally/filter.h"

#include <string>

namespace ropeline {

/// What the columns of the shot list show.
enum class ShotColumn {
    number,
    time,
    goalie,
    band,
    depth,
    read,
    verdict,
    outcome,
    situation,
    strength,
    first_detail, ///< then the others, in the order of season/details.h
    note = first_detail + detail_count
};
constexpr int shot_columns = static_cast<int>(ShotColumn::note) + 1;

struct ListOrder {
    ShotColumn by = ShotColumn::number;
    bool falling = false;
    std::string filter;
    FactFilter only; ///< the Season side's; see in_filter() for what of it a list of one game has
};

} // namespace ropeline
