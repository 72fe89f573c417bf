// How the shot list is sorted, and which shots it shows; see shot_list.h.
#pragma once

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
    note
};
constexpr int shot_columns = 11;

struct ListOrder {
    ShotColumn by = ShotColumn::number;
    bool falling = false;
    std::string filter;
};

} // namespace ropeline
