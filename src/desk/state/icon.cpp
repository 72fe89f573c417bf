#include "desk/state/icon.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {

namespace {

using Colour = std::array<double, 4>;
constexpr Colour nothing{0, 0, 0, 0}, ground{14, 27, 40, 255}, ice{232, 241, 247, 255},
    paint{196, 56, 56, 255}, crease{120, 176, 226, 255}, rope{226, 178, 92, 255};

// Places in a square from 0 to 1, y down. The goal line lies low; the puck is up and to the right.
constexpr double goal_line = 0.76, middle = 0.42, half_net = 0.17, crease_radius = 0.27;
constexpr double puck_x = 0.76, puck_y = 0.22, puck_radius = 0.10;

double distance_to_rope(double x, double y, double post_x) {
    const double dx = puck_x - post_x, dy = puck_y - goal_line;
    const double along =
        std::clamp(((x - post_x) * dx + (y - goal_line) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
    return std::hypot(x - post_x - along * dx, y - goal_line - along * dy);
}

bool in_rounded_square(double x, double y) {
    constexpr double edge = 0.04, round = 0.2;
    const double off_x = std::max(0.0, std::abs(x - 0.5) - (0.5 - edge - round));
    const double off_y = std::max(0.0, std::abs(y - 0.5) - (0.5 - edge - round));
    return std::hypot(off_x, off_y) <= round;
}

Colour colour_at(double x, double y) {
    if (!in_rounded_square(x, y)) return nothing;
    if (std::hypot(x - puck_x, y - puck_y) < puck_radius) return ice;
    const double rope_px =
        std::min(distance_to_rope(x, y, middle - half_net), distance_to_rope(x, y, middle + half_net));
    if (rope_px < 0.028) return rope;
    if (std::abs(y - goal_line) < 0.026 && x > 0.08 && x < 0.92) return paint;
    if (y < goal_line && std::hypot(x - middle, y - goal_line) < crease_radius) return crease;
    return ground;
}

} // namespace

std::vector<std::uint8_t> icon_rgba(int size_px) {
    constexpr int fine = 4; // each pixel is looked at in so many places across and down
    std::vector<std::uint8_t> rgba;
    rgba.reserve(4 * static_cast<std::size_t>(size_px) * static_cast<std::size_t>(size_px));
    for (int row = 0; row < size_px; ++row) {
        for (int column = 0; column < size_px; ++column) {
            Colour sum{};
            for (int part = 0; part < fine * fine; ++part) {
                const double x = (column + (part % fine + 0.5) / fine) / size_px;
                const double y = (row + (part / fine + 0.5) / fine) / size_px; // NOLINT: whole rows of parts
                const Colour one = colour_at(x, y);
                const double weight = one[3] / 255.0;
                for (std::size_t c = 0; c < 3; ++c)
                    sum[c] += weight * one[c];
                sum[3] += one[3];
            }
            const double weight = std::max(1e-9, sum[3] / 255.0);
            for (std::size_t c = 0; c < 3; ++c)
                rgba.push_back(static_cast<std::uint8_t>(std::lround(sum[c] / weight)));
            rgba.push_back(static_cast<std::uint8_t>(std::lround(sum[3] / (fine * fine))));
        }
    }
    return rgba;
}

} // namespace ropeline
