// From pixels to ice and back through a fit, and how sure each place is.
#include "camera/homography.h"
#include "camera/projection.h"
#include "camera/rink_fit.h"

#include <Eigen/LU>

#include <cmath>

namespace ropeline {
namespace {

constexpr double farthest_m =
    1000.0; // nothing on a rink lies beyond; closer to the horizon than this is no place

Eigen::Vector2d vector_of(ImagePoint at) {
    return {at.x_px, at.y_px};
}

/// Slopes of the pixel of `ice` by the ice position (2x2) and by the fit's ten numbers (2x10).
struct Slopes {
    Eigen::Matrix2d by_ice;
    Eigen::Matrix<double, 2, 10> by_fit;
};

Slopes slopes_at(const RinkFit& fit, IcePoint ice) {
    const Eigen::Matrix3d matrix = to_eigen(fit.image_from_ice);
    const Eigen::Vector3d from{ice.x_m, ice.y_m, 1.0};
    const Eigen::Vector3d seen = matrix * from;
    const Eigen::Vector2d straight = seen.head<2>() / seen.z();
    Eigen::Matrix<double, 2, 3> by_seen;
    by_seen << 1.0 / seen.z(), 0.0, -straight.x() / seen.z(), 0.0, 1.0 / seen.z(), -straight.y() / seen.z();

    // Division model: straight = s(pixel), so the slope of the pixel is the inverse of the slope of s.
    const Lens lens = lens_of(fit.image);
    Eigen::Vector2d pixel = straight;
    bent<double>(lens, fit.radial, straight, pixel);
    const Eigen::Vector2d offset = (pixel - lens.middle_px) / lens.half_diagonal_px;
    const double stretch = 1.0 + fit.radial * offset.squaredNorm();
    const Eigen::Matrix2d straight_by_pixel =
        Eigen::Matrix2d::Identity() / stretch -
        (2.0 * fit.radial / (stretch * stretch)) * offset * offset.transpose();
    const Eigen::Vector2d straight_by_radial =
        -offset * (lens.half_diagonal_px * offset.squaredNorm() / (stretch * stretch));
    const Eigen::Matrix2d pixel_by_straight = straight_by_pixel.inverse();

    Slopes slopes;
    slopes.by_ice = pixel_by_straight * by_seen * matrix.leftCols<2>();
    for (int row = 0; row < 3; ++row) {
        slopes.by_fit.middleCols<3>(3 * row) = pixel_by_straight * by_seen.col(row) * from.transpose();
    }
    slopes.by_fit.col(9) = -pixel_by_straight * straight_by_radial;
    return slopes;
}

Eigen::Matrix<double, 10, 10> covariance_of(const RinkFit& fit) {
    Eigen::Matrix<double, 10, 10> all;
    all.topLeftCorner<9, 9>() =
        Eigen::Map<const Eigen::Matrix<double, 9, 9, Eigen::RowMajor>>(fit.covariance.data());
    const Eigen::Map<const Eigen::Matrix<double, 10, 1>> radial(fit.radial_covariance.data());
    all.col(9) = radial;
    all.row(9) = radial.transpose();
    return all;
}

} // namespace

std::optional<IcePoint> ice_at(const RinkFit& fit, ImagePoint at) {
    const Eigen::Vector2d straight = straightened<double>(lens_of(fit.image), fit.radial, vector_of(at));
    const Eigen::Vector3d ice = to_eigen(fit.ice_from_image) * straight.homogeneous();
    const double reach = farthest_m * ice.z();
    if (!(ice.z() > 0.0) || !(std::abs(ice.x()) < reach) || !(std::abs(ice.y()) < reach)) return std::nullopt;
    return IcePoint{ice.x() / ice.z(), ice.y() / ice.z()};
}

std::optional<ImagePoint> image_at(const RinkFit& fit, IcePoint at) {
    const RowMatrix3<double> matrix = to_eigen(fit.image_from_ice);
    Eigen::Vector2d pixel;
    if (!project<double>(matrix, lens_of(fit.image), fit.radial, Eigen::Vector2d{at.x_m, at.y_m}, pixel)) {
        return std::nullopt;
    }
    if (!pixel.allFinite()) return std::nullopt;
    return ImagePoint{pixel.x(), pixel.y()};
}

// An unknown ice point X under an uncertain camera: dX = Jx^-1 (dx - Jg dG).
// Source: Hartley & Zisserman, Multiple View Geometry, 2nd ed., chapter 5; Criminisi, Reid & Zisserman, BMVC
// 1997.
std::vector<double> joint_ice_covariance(const RinkFit& fit, std::span<const ImagePoint> at,
                                         double click_sigma_px) {
    const auto size = static_cast<Eigen::Index>(2 * at.size());
    Eigen::MatrixXd by_fit(size, 10);
    Eigen::MatrixXd by_click = Eigen::MatrixXd::Zero(size, size);
    for (std::size_t i = 0; i < at.size(); ++i) {
        const auto row = static_cast<Eigen::Index>(2 * i);
        const std::optional<IcePoint> ice = ice_at(fit, at[i]);
        if (!ice)
            throw FitError(FitFault::not_invertible,
                           "a mark at or beyond the horizon has no place on the ice; mark it on the ice");
        const Slopes slopes = slopes_at(fit, *ice);
        const Eigen::Matrix2d back = slopes.by_ice.inverse();
        by_fit.middleRows<2>(row) = back * slopes.by_fit;
        by_click.block<2, 2>(row, row) = back;
    }
    Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> joint =
        by_fit * covariance_of(fit) * by_fit.transpose() +
        click_sigma_px * click_sigma_px * by_click * by_click.transpose();
    return {joint.data(), joint.data() + joint.size()};
}

IceCovariance ice_covariance(const RinkFit& fit, ImagePoint at, double click_sigma_px) {
    const std::vector<double> joint = joint_ice_covariance(fit, std::array{at}, click_sigma_px);
    return {joint[0], joint[1], joint[3]};
}

} // namespace ropeline
