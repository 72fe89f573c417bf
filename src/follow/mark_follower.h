// The marks of one frame followed to another one, on a thread of its own.
#pragma once

#include "film/background_work.h"
#include "follow/followed_figure.h"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace ropeline {

/// What stands on the ice by one mark or two, a goalie's skates.
struct MarkedFigure {
    FigureKind kind{};
    std::vector<ImagePoint> at;
};

struct RinkOfFrame {
    std::int64_t frame = 0;
    RinkFit fit;
};

struct FollowJob {
    std::string film_path;
    std::vector<std::byte> kept_index; ///< so that the film need not be read through again
    std::vector<RinkOfFrame> way;      ///< from the marked frame to the one asked for, forward or back
    std::vector<MarkedFigure> figures; ///< in the first of them
};

/// Of each figure its marks in the last frame; none of one that is not surely there.
using FollowedMarks = std::vector<std::vector<ImagePoint>>;

/// Which frames are looked at on the way, both ends included: some fifteen a second.
std::vector<std::int64_t> way_between(std::int64_t from, std::int64_t to, double frames_per_second);

/// Stops within a frame, or within a fifth of a second a figure.
class MarkFollower : public BackgroundWork<FollowedMarks> {
public:
    explicit MarkFollower(FollowJob job);
};

} // namespace ropeline
