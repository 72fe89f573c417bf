#include "desk/state/labels.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

/// Over, under, right, left, then the corners between.
constexpr ScreenPoint ways[] = {{0.0F, -1.0F}, {0.0F, 1.0F}, {1.0F, 0.0F},   {-1.0F, 0.0F},
                                {1.0F, -1.0F}, {1.0F, 1.0F}, {-1.0F, -1.0F}, {-1.0F, 1.0F}};

std::optional<Rect> place_label(const Rect& room, const LabelWish& wish, std::span<const Rect> taken,
                                float step) {
    constexpr int furthest = 24; // steps: a dozen lines of text away
    for (int ring = 1; ring <= furthest; ++ring) {
        const float off = static_cast<float>(ring) * step;
        for (const ScreenPoint way : ways) {
            const Rect place{wish.at.x + way.x * (off + 0.5F * wish.width) - 0.5F * wish.width,
                             wish.at.y + way.y * (off + 0.5F * wish.height) - 0.5F * wish.height, wish.width,
                             wish.height};
            const bool inside = place.x >= room.x && place.y >= room.y &&
                                place.x + place.width <= room.x + room.width &&
                                place.y + place.height <= room.y + room.height;
            const auto hides = [&](const Rect& other) { return overlap(other, place); };
            if (inside && std::ranges::none_of(taken, hides)) return place;
        }
    }
    return std::nullopt;
}

} // namespace

bool overlap(const Rect& one, const Rect& other) {
    return one.x < other.x + other.width && other.x < one.x + one.width && one.y < other.y + other.height &&
           other.y < one.y + one.height;
}

std::vector<std::optional<Rect>> place_labels(const Rect& room, std::span<const LabelWish> wishes,
                                              std::span<const Rect> keep_clear, float step) {
    std::vector<Rect> taken{keep_clear.begin(), keep_clear.end()};
    std::vector<std::optional<Rect>> places;
    for (LabelWish wish : wishes) {
        // What lies outside is named at the edge it is nearest to.
        wish.at.x = std::clamp(wish.at.x, room.x, std::max(room.x, room.x + room.width));
        wish.at.y = std::clamp(wish.at.y, room.y, std::max(room.y, room.y + room.height));
        places.push_back(place_label(room, wish, taken, step));
        if (places.back()) taken.push_back(*places.back());
    }
    return places;
}

} // namespace ropeline
