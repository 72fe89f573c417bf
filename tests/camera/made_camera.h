// A pinhole camera over the ice with known truth, for tests.
#pragma once

#include "camera/image_point.h"
#include "camera/rink_fit.h"
#include "rink/ice_point.h"

#include <cmath>
#include <random>

namespace ropeline::made {

struct Camera {
    double x_m = 0.0, y_m = 40.0, height_m = 12.0; ///< where it stands
    IcePoint looks_at{0.0, 5.0};
    double focal_px = 1600.0;
    double roll = 0.0; ///< radians
    ImageSize image{1920, 1080};
    double radial = 0.0; ///< division model, as RinkFit
};

/// Row-major pixels-from-ice matrix of the straightened picture, not scaled.
inline Matrix3 matrix_of(const Camera& camera) {
    // Axes of the camera in the world: `ahead` towards the aim, `right`, `down`.
    const double ax = camera.looks_at.x_m - camera.x_m, ay = camera.looks_at.y_m - camera.y_m,
                 az = -camera.height_m;
    const double a = std::sqrt(ax * ax + ay * ay + az * az);
    const double ahead[3]{ax / a, ay / a, az / a};
    const double r = std::hypot(ahead[0], ahead[1]);
    double right[3]{ahead[1] / r, -ahead[0] / r, 0.0};
    double down[3]{ahead[1] * right[2] - ahead[2] * right[1], ahead[2] * right[0] - ahead[0] * right[2],
                   ahead[0] * right[1] - ahead[1] * right[0]};
    const double c = std::cos(camera.roll), s = std::sin(camera.roll);
    for (int i = 0; i < 3; ++i) {
        const double old_right = right[i];
        right[i] = c * old_right + s * down[i];
        down[i] = -s * old_right + c * down[i];
    }
    const double position[3]{camera.x_m, camera.y_m, camera.height_m};
    const auto along = [&](const double axis[3], int column) {
        if (column < 2) return axis[column];
        return -(axis[0] * position[0] + axis[1] * position[1] + axis[2] * position[2]);
    };
    Matrix3 matrix{};
    for (int column = 0; column < 3; ++column) {
        const double depth = along(ahead, column);
        matrix[static_cast<std::size_t>(column)] =
            camera.focal_px * along(right, column) + camera.image.width_px / 2.0 * depth;
        matrix[static_cast<std::size_t>(3 + column)] =
            camera.focal_px * along(down, column) + camera.image.height_px / 2.0 * depth;
        matrix[static_cast<std::size_t>(6 + column)] = depth;
    }
    return matrix;
}

inline ImagePoint see(const Camera& camera, IcePoint at) {
    const Matrix3 m = matrix_of(camera);
    const double w = m[6] * at.x_m + m[7] * at.y_m + m[8];
    double x = (m[0] * at.x_m + m[1] * at.y_m + m[2]) / w - camera.image.width_px / 2.0;
    double y = (m[3] * at.x_m + m[4] * at.y_m + m[5]) / w - camera.image.height_px / 2.0;
    const double half_diagonal = std::hypot(camera.image.width_px, camera.image.height_px) / 2.0;
    const double r2 = (x * x + y * y) / (half_diagonal * half_diagonal);
    const double bend = 2.0 / (1.0 + std::sqrt(1.0 - 4.0 * camera.radial * r2));
    return {x * bend + camera.image.width_px / 2.0, y * bend + camera.image.height_px / 2.0};
}

/// A camera somewhere in the stands, looking at one end.
inline Camera random_camera(std::mt19937& random) {
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution(low, high)(random);
    };
    Camera camera;
    camera.x_m = between(-25.0, 25.0);
    camera.y_m = between(12.0, 45.0);
    camera.height_m = between(5.0, 15.0);
    camera.looks_at = {between(-4.0, 4.0), between(0.0, 8.0)};
    camera.focal_px = between(900.0, 2500.0);
    camera.roll = between(-0.05, 0.05);
    return camera;
}

} // namespace ropeline::made
