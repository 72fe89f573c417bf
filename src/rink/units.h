// Lengths inside Ropeline are metres. Rule books that speak feet and inches are converted here and nowhere
// else.
#pragma once

namespace ropeline {

constexpr double metres_per_foot = 0.3048; // exact by definition of the international foot (1959)

constexpr double from_feet(double feet) {
    return feet * metres_per_foot;
}
constexpr double from_inches(double inches) {
    return inches * (metres_per_foot / 12.0);
}
constexpr double to_feet(double metres) {
    return metres / metres_per_foot;
}

constexpr double pi = 3.14159265358979323846;
constexpr double to_degrees(double radians) {
    return radians * (180.0 / pi);
}
constexpr double to_radians(double degrees) {
    return degrees * (pi / 180.0);
}

} // namespace ropeline
