#include "camera/paint_off.h"

#include "camera/projection.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>

#include <cmath>

namespace ropeline {

double off_the_book_m(bool at_boards, double paint_off_m) {
    return at_boards ? 3.0 * paint_off_m : paint_off_m;
}

bool at_boards(const IceCurve& curve) {
    return curve.name == "boards";
}

Eigen::Matrix2d click_spread(const Eigen::Matrix2d& pixel_by_ice, double off_m, double click_sigma_px) {
    return click_sigma_px * click_sigma_px * Eigen::Matrix2d::Identity() +
           off_m * off_m * pixel_by_ice * pixel_by_ice.transpose();
}

double click_spread_across(const Eigen::Matrix2d& pixel_by_ice, const Eigen::Vector2d& along, double off_m,
                           double click_sigma_px) {
    // A strip a metre wide keeps its area: so wide is it across the curve as it is seen.
    const double px_per_m = std::abs(pixel_by_ice.determinant()) / (pixel_by_ice * along).norm();
    return click_sigma_px * click_sigma_px + off_m * off_m * px_per_m * px_per_m;
}

FitTerms weighed_for_paint(FitTerms terms, const SolvedFit& fit, ImageSize image, double paint_off_m,
                           double click_sigma_px) {
    const RowMatrix3 matrix = fit.image_from_ice;
    const Lens lens = lens_of(image);
    const auto slopes_at = [&](const Eigen::Vector2d& ice, const Eigen::Vector2d& pixel) {
        return pixel_slopes(matrix, lens, fit.radial, ice, pixel).by_ice;
    };
    for (PointTerm& term : terms.points) {
        const double off_m = off_the_book_m(term.at_boards, paint_off_m);
        const Eigen::Matrix2d spread = click_spread(slopes_at(term.ice, term.pixel), off_m, click_sigma_px);
        const Eigen::Matrix2d root = spread.llt().matrixL();
        term.weight = click_sigma_px * root.inverse();
    }
    const Eigen::Matrix3d ice_from_image = fit.image_from_ice.inverse();
    for (CurveTerm& term : terms.curves) {
        const Eigen::Vector3d seen =
            ice_from_image * straightened(lens, fit.radial, term.pixel).homogeneous();
        const Eigen::Vector2d ice = seen.hnormalized();
        const CurvePiece& piece = nearest_piece(*term.curve, {ice.x(), ice.y()});
        const IcePoint along = piece.radius_m > 0.0
                                   ? IcePoint{piece.centre.y_m - ice.y(), ice.x() - piece.centre.x_m}
                                   : piece.to - piece.from;
        const Eigen::Vector2d unit = Eigen::Vector2d{along.x_m, along.y_m}.normalized();
        const double off_m = off_the_book_m(at_boards(*term.curve), paint_off_m);
        term.weight = click_sigma_px /
                      std::sqrt(click_spread_across(slopes_at(ice, term.pixel), unit, off_m, click_sigma_px));
    }
    return terms;
}

} // namespace ropeline
