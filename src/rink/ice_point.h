// A place on the ice. Origin: middle of the goal line between the posts (centre of the painted line).
// x to the right and y up-ice, seen from the net; metres. Behind the goal line y is negative.
#pragma once

#include <cmath>

namespace ropeline {

struct IcePoint {
    double x_m = 0.0;
    double y_m = 0.0;

    friend constexpr bool operator==(const IcePoint&, const IcePoint&) = default;
};

constexpr IcePoint operator+(IcePoint a, IcePoint b) {
    return {a.x_m + b.x_m, a.y_m + b.y_m};
}
constexpr IcePoint operator-(IcePoint a, IcePoint b) {
    return {a.x_m - b.x_m, a.y_m - b.y_m};
}
constexpr IcePoint operator*(IcePoint a, double factor) {
    return {a.x_m * factor, a.y_m * factor};
}
constexpr double dot(IcePoint a, IcePoint b) {
    return a.x_m * b.x_m + a.y_m * b.y_m;
}
constexpr double cross(IcePoint a, IcePoint b) {
    return a.x_m * b.y_m - a.y_m * b.x_m;
}
inline double length(IcePoint a) {
    return std::sqrt(dot(a, a)); // on ice no square overflows, and hypot takes five times as long
}
inline double distance(IcePoint a, IcePoint b) {
    return length(a - b);
}

} // namespace ropeline
