#include "reel/overlay_room.h"

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

double covered(const Box& one, const Box& other) {
    const double wide = std::min(one.x + one.width, other.x + other.width) - std::max(one.x, other.x);
    const double high = std::min(one.y + one.height, other.y + other.height) - std::max(one.y, other.y);
    return std::max(0.0, wide) * std::max(0.0, high);
}

/// A metre there, in pixels: the longer of one across and one up-ice, since the camera foreshortens the other.
std::optional<double> metre_px(const RinkFit& fit, IcePoint at) {
    const auto here = image_at(fit, at);
    if (!here) return std::nullopt;
    double longest = 0.0;
    for (const IcePoint step : {IcePoint{1.0, 0.0}, IcePoint{0.0, 1.0}}) {
        if (const auto there = image_at(fit, at + step))
            longest = std::max(longest, std::hypot(there->x_px - here->x_px, there->y_px - here->y_px));
    }
    return longest;
}

} // namespace

std::vector<Box> people_in(const OnCanvas& on, const ShownMoment& shown) {
    std::vector<Box> people;
    if (!shown.fit) return people;
    for (const Mark& mark : shown.moment.marks) {
        const auto feet = mark.ice ? image_at(*shown.fit, *mark.ice) : std::nullopt;
        const auto metre = feet ? metre_px(*shown.fit, *mark.ice) : std::nullopt;
        if (!metre) continue;
        const ImagePoint at = on(*feet);
        const double m = *metre * on.scale;
        people.push_back({at.x_px - 0.6 * m, at.y_px - 1.8 * m, 1.2 * m, 2.0 * m});
    }
    return people;
}

bool overlap(const Box& one, const Box& other) {
    return covered(one, other) > 0.0;
}

std::size_t clearest(std::span<const Box> boxes, std::span<const Box> keep_clear) {
    std::vector<double> hides(boxes.size(), 0.0);
    for (std::size_t index = 0; index < boxes.size(); ++index)
        for (const Box& one : keep_clear)
            hides[index] += covered(boxes[index], one);
    return static_cast<std::size_t>(std::ranges::min_element(hides) - hides.begin());
}

} // namespace ropeline
