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

Eigen::Matrix<double, 10, 10> fit_covariance(const RinkFit& fit) {
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
    const Eigen::Vector2d straight = straightened(lens_of(fit.image), fit.radial, vector_of(at));
    const Eigen::Vector3d ice = to_eigen(fit.ice_from_image) * straight.homogeneous();
    const double reach = farthest_m * ice.z();
    if (!(ice.z() > 0.0) || !(std::abs(ice.x()) < reach) || !(std::abs(ice.y()) < reach)) return std::nullopt;
    return IcePoint{ice.x() / ice.z(), ice.y() / ice.z()};
}

std::optional<ImagePoint> image_at(const RinkFit& fit, IcePoint at) {
    const RowMatrix3 matrix = to_eigen(fit.image_from_ice);
    Eigen::Vector2d pixel;
    if (!project(matrix, lens_of(fit.image), fit.radial, Eigen::Vector2d{at.x_m, at.y_m}, pixel)) {
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
        const PixelSlopes slopes = pixel_slopes(to_eigen(fit.image_from_ice), lens_of(fit.image), fit.radial,
                                                {ice->x_m, ice->y_m}, vector_of(at[i]));
        const Eigen::Matrix2d back = slopes.by_ice.inverse();
        by_fit.middleRows<2>(row) = back * slopes.by_fit;
        by_click.block<2, 2>(row, row) = back;
    }
    Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> joint =
        by_fit * fit_covariance(fit) * by_fit.transpose() +
        click_sigma_px * click_sigma_px * by_click * by_click.transpose();
    return {joint.data(), joint.data() + joint.size()};
}

IceCovariance ice_covariance(const RinkFit& fit, ImagePoint at, double click_sigma_px) {
    const std::vector<double> joint = joint_ice_covariance(fit, std::array{at}, click_sigma_px);
    return {joint[0], joint[1], joint[3]};
}

} // namespace ropeline
