#include "camera/turning_camera.h"

#include "camera/dense.h"
#include "camera/homography.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <Eigen/SVD>

#include <algorithm>
#include <cmath>
#include <vector>

namespace ropeline {
namespace {

constexpr double usual_radial = 0.05; // measured on one broadcast: 0.03 to 0.05

/// A place on the ice in the camera's axes.
Eigen::Vector3d from_camera(const TurningCamera& camera, const Eigen::Vector2d& ice) {
    return camera.camera_from_world * (Eigen::Vector3d{ice.x(), ice.y(), 0.0} - camera.place_m);
}

/// Closed form: both columns of a rotation are square to each other and of one length.
TurningCamera from_matrix(const RinkFit& fit) {
    const Lens lens = lens_of(fit.image);
    Eigen::Matrix3d to_middle = Eigen::Matrix3d::Identity();
    to_middle.topRightCorner<2, 1>() = -lens.middle_px;
    const Eigen::Matrix3d matrix = to_middle * to_eigen(fit.image_from_ice);
    const double a = matrix.col(0).head<2>().dot(matrix.col(1).head<2>()), b = matrix(2, 0) * matrix(2, 1);
    const double c = matrix.col(0).head<2>().squaredNorm() - matrix.col(1).head<2>().squaredNorm();
    const double d = matrix(2, 0) * matrix(2, 0) - matrix(2, 1) * matrix(2, 1);
    const double inverse_square = -(a * b + c * d) / (a * a + c * c);
    TurningCamera camera;
    camera.image = fit.image;
    camera.radial = fit.radial;
    camera.focal_px = inverse_square > 0.0 && std::isfinite(inverse_square) ? 1.0 / std::sqrt(inverse_square)
                                                                            : 1.2 * fit.image.width_px;
    const Eigen::DiagonalMatrix<double, 3> inside(1.0 / camera.focal_px, 1.0 / camera.focal_px, 1.0);
    const Eigen::Matrix3d axes = inside * matrix;
    const double scale = 2.0 / (axes.col(0).norm() + axes.col(1).norm());
    Eigen::Matrix3d rotation;
    rotation << axes.col(0) * scale, axes.col(1) * scale, Eigen::Vector3d::Zero();
    rotation.col(2) = rotation.col(0).cross(rotation.col(1));
    const Eigen::JacobiSVD<Eigen::Matrix3d> svd(rotation, Eigen::ComputeFullU | Eigen::ComputeFullV);
    camera.camera_from_world = svd.matrixU() * svd.matrixV().transpose();
    camera.place_m = -camera.camera_from_world.transpose() * axes.col(2) * scale;
    return camera;
}

/// Of the nine numbers row by row, then of `radial`.
Eigen::Matrix<double, 10, 10> covariance_of(const RinkFit& fit) {
    Eigen::Matrix<double, 10, 10> all;
    all.topLeftCorner<9, 9>() =
        Eigen::Map<const Eigen::Matrix<double, 9, 9, Eigen::RowMajor>>(fit.covariance.data());
    const Eigen::Map<const Eigen::Matrix<double, 10, 1>> radial(fit.radial_covariance.data());
    all.col(9) = radial;
    all.row(9) = radial.transpose();
    return all;
}

/// Ice places spread over what the picture shows.
std::vector<Eigen::Vector2d> places_in_view(const RinkFit& fit) {
    std::vector<Eigen::Vector2d> places;
    for (double y = 0.1; y < 1.0; y += 0.2) {
        for (double x = 0.1; x < 1.0; x += 0.2) {
            const auto ice = ice_at(fit, {x * fit.image.width_px, y * fit.image.height_px});
            if (ice && length(*ice) < 60.0) places.emplace_back(ice->x_m, ice->y_m);
        }
    }
    return places;
}

} // namespace

Eigen::Matrix3d level_axes(const Eigen::Vector3d& ahead) {
    const Eigen::Vector3d right = ahead.cross(Eigen::Vector3d::UnitZ()).normalized();
    Eigen::Matrix3d axes;
    axes << right.transpose(), ahead.cross(right).transpose(), ahead.transpose();
    return axes;
}

Eigen::Matrix3d image_from_ice_of(const TurningCamera& camera) {
    const Lens lens = lens_of(camera.image);
    Eigen::Matrix3d inside;
    inside << camera.focal_px, 0.0, lens.middle_px.x(), 0.0, camera.focal_px, lens.middle_px.y(), 0.0, 0.0,
        1.0;
    Eigen::Matrix3d axes;
    axes << camera.camera_from_world.leftCols<2>(), -camera.camera_from_world * camera.place_m;
    return inside * axes;
}

bool project(const TurningCamera& camera, const Eigen::Vector2d& ice, Eigen::Vector2d& pixel) {
    const Eigen::Vector3d seen = from_camera(camera, ice);
    if (!(seen.z() > 0.1)) return false;
    const Lens lens = lens_of(camera.image);
    return bent(lens, camera.radial, lens.middle_px + camera.focal_px * seen.hnormalized(), pixel);
}

Eigen::Matrix<double, 2, 8> pixel_by_step(const TurningCamera& camera, const Eigen::Vector2d& ice,
                                          const Eigen::Vector2d& pixel) {
    const Eigen::Vector3d seen = from_camera(camera, ice);
    const Eigen::Vector2d plane = seen.hnormalized();
    Eigen::Matrix<double, 2, 3> by_seen; // of the plane one focal length ahead
    by_seen << 1.0, 0.0, -plane.x(), 0.0, 1.0, -plane.y();
    by_seen /= seen.z();
    Eigen::Matrix3d turn; // a small rotation r moves `seen` by r x seen
    turn << 0.0, seen.z(), -seen.y(), -seen.z(), 0.0, seen.x(), seen.y(), -seen.x(), 0.0;
    const Lens lens = lens_of(camera.image);
    const Eigen::Matrix2d bend = pixel_by_straight(lens, camera.radial, pixel);
    const Eigen::Vector2d offset = (pixel - lens.middle_px) / lens.half_diagonal_px;
    const double squared = offset.squaredNorm(), stretch = 1.0 + camera.radial * squared;
    Eigen::Matrix<double, 2, 7> straight;
    straight << by_seen * turn, plane, -by_seen * camera.camera_from_world;
    Eigen::Matrix<double, 2, 8> slope;
    slope << camera.focal_px * bend * straight,
        bend * offset * (lens.half_diagonal_px * squared / (stretch * stretch));
    return slope;
}

TurningCamera moved(const TurningCamera& camera, const CameraStep& step) {
    TurningCamera after = camera;
    const double angle = step.head<3>().norm();
    const Eigen::Vector3d axis =
        angle > 0.0 ? Eigen::Vector3d{step.head<3>() / angle} : Eigen::Vector3d::UnitX();
    // Through a unit quaternion: products of thousands of matrices would drift away from being rotations.
    const Eigen::Quaterniond turn(Eigen::AngleAxisd(angle, axis));
    after.camera_from_world =
        (turn * Eigen::Quaterniond(camera.camera_from_world)).normalized().toRotationMatrix();
    after.focal_px *= std::exp(step(3));
    after.place_m += step.segment<3>(4);
    after.radial += step(7);
    return after;
}

std::optional<CameraBelief> turning_camera_of(const RinkFit& fit, double most_px) {
    const std::vector<Eigen::Vector2d> places = places_in_view(fit);
    if (places.size() < 4) return std::nullopt;
    const auto size = static_cast<Eigen::Index>(2 * places.size());
    Eigen::MatrixXd by_numbers(size, 10);
    Eigen::VectorXd wanted(size);
    for (std::size_t i = 0; i < places.size(); ++i) {
        const auto row = static_cast<Eigen::Index>(2 * i);
        const ImagePoint pixel = image_at(fit, {places[i].x(), places[i].y()}).value();
        wanted.segment<2>(row) << pixel.x_px, pixel.y_px;
        by_numbers.middleRows<2>(row) = pixel_slopes(to_eigen(fit.image_from_ice), lens_of(fit.image),
                                                     fit.radial, places[i], wanted.segment<2>(row))
                                            .by_fit;
    }
    // What the fit's own error allows, and a little more for a camera that is not quite ideal.
    constexpr double slack_px = 0.3;
    Eigen::MatrixXd spread = product(product(by_numbers, covariance_of(fit)), by_numbers.transpose());
    if (fit.radial_covariance[9] ==
        0.0) { // a lens that was not asked for bent what the clicks do not hold in place
        constexpr double unexplained = 0.5 * usual_radial;
        spread += unexplained * unexplained * product(by_numbers.col(9), by_numbers.col(9).transpose());
    }
    spread.diagonal().array() += slack_px * slack_px;
    const Eigen::MatrixXd weight = inverse_of(spread);

    CameraBelief belief{from_matrix(fit), CameraSpread::Zero()};
    if (!belief.camera.place_m.allFinite() || !(belief.camera.place_m.z() > 0.3)) return std::nullopt;
    Eigen::MatrixXd slopes(size, 8);
    Eigen::VectorXd off(size);
    for (int round = 0; round < 12; ++round) {
        for (std::size_t i = 0; i < places.size(); ++i) {
            Eigen::Vector2d pixel;
            if (!project(belief.camera, places[i], pixel)) return std::nullopt;
            const auto row = static_cast<Eigen::Index>(2 * i);
            off.segment<2>(row) = wanted.segment<2>(row) - pixel;
            slopes.middleRows<2>(row) = pixel_by_step(belief.camera, places[i], pixel);
        }
        const Eigen::MatrixXd weighed = product(slopes.transpose(), weight);
        CameraSpread information = product(weighed, slopes);
        information(7, 7) += 1.0 / (usual_radial * usual_radial);
        CameraStep pull = product(weighed, off);
        pull(7) += (fit.radial - belief.camera.radial) / (usual_radial * usual_radial);
        const CameraStep step = solved(information, pull);
        belief.camera = moved(belief.camera, step);
        belief.spread = inverse_of(information);
        if (step.norm() < 1e-10) break;
    }
    // Far from its clicks a fit may lie off by pixels and still be this camera: count in its own sigmas as
    // well.
    const double rms_px = std::sqrt(off.squaredNorm() / static_cast<double>(size));
    const double sigmas = std::sqrt(off.dot(weight * off));
    constexpr double most_sigmas = 5.0; // a homography has one number more than such a camera
    if (!(rms_px < most_px || sigmas < most_sigmas)) return std::nullopt;
    if (!belief.spread.allFinite() || !(belief.camera.place_m.z() > 0.3)) return std::nullopt;
    return belief;
}

RinkFit fit_of(const CameraBelief& belief) {
    const auto numbers_of = [](const TurningCamera& camera) {
        Eigen::Matrix3d matrix = image_from_ice_of(camera);
        const double last =
            std::abs(matrix(2, 2)) > 1e-9 * matrix.norm() ? std::abs(matrix(2, 2)) : matrix.norm();
        return Eigen::Matrix3d{matrix / last};
    };
    const Eigen::Matrix3d matrix = numbers_of(belief.camera);
    Eigen::Matrix<double, 10, 8> slope = Eigen::Matrix<double, 10, 8>::Zero();
    slope(9, 7) = 1.0;
    for (int k = 0; k < 7; ++k) {
        const double h = k < 4 ? 1e-6 : 1e-5;
        const CameraStep step = CameraStep::Unit(k) * h;
        const RowMatrix3 up = numbers_of(moved(belief.camera, step));
        const RowMatrix3 down = numbers_of(moved(belief.camera, -step));
        const RowMatrix3 change = (up - down) / (2.0 * h);
        slope.col(k).head<9>() = Eigen::Map<const Eigen::Matrix<double, 9, 1>>(change.data());
    }
    RinkFit fit;
    fit.image = belief.camera.image;
    fit.radial = belief.camera.radial;
    fit.image_from_ice = from_eigen(matrix);
    fit.ice_from_image = from_eigen(matrix.inverse());
    const Eigen::Matrix<double, 10, 10> covariance = slope * belief.spread * slope.transpose();
    Eigen::Map<Eigen::Matrix<double, 9, 9, Eigen::RowMajor>>(fit.covariance.data()) =
        covariance.topLeftCorner<9, 9>();
    Eigen::Map<Eigen::Matrix<double, 10, 1>>(fit.radial_covariance.data()) = covariance.col(9);
    return fit;
}

} // namespace ropeline
