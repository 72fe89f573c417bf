#include "camera/dense.h"
#include "camera/fit_residuals.h"
#include "camera/homography.h"
#include "camera/turning_camera.h"

#include "rink/units.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace ropeline {
namespace {

constexpr double least_conditioning = 1e-7;

/// Sign such that all points lie in front of the camera; false where no sign does it.
bool face_forward(Eigen::Matrix3d& image_from_ice, const FitTerms& terms) {
    const auto behind = std::ranges::count_if(terms.points, [&](const PointTerm& term) {
        return image_from_ice.row(2).dot(term.ice.homogeneous()) <= 0.0;
    });
    if (behind == 0) return true;
    image_from_ice = -image_from_ice;
    return behind == std::ssize(terms.points);
}

std::optional<Eigen::Matrix3d> from_points(const FitTerms& terms) {
    if (terms.points.size() < 4) return std::nullopt;
    std::vector<Eigen::Vector2d> ice, pixels;
    for (const PointTerm& term : terms.points) {
        ice.push_back(term.ice);
        pixels.push_back(term.pixel);
    }
    const Eigen::Matrix3d from_ice = normaliser(ice), from_pixels = normaliser(pixels);
    for (Eigen::Vector2d& point : ice)
        point = (from_ice * point.homogeneous()).hnormalized();
    for (Eigen::Vector2d& point : pixels)
        point = (from_pixels * point.homogeneous()).hnormalized();
    const LinearFit linear = direct_linear_transform(ice, pixels);
    if (!(linear.conditioning > least_conditioning)) return std::nullopt;
    return from_pixels.inverse() * linear.target_from_source * from_ice;
}

/// Points and clicks on straight curves are linear in the inverse matrix: X x (G p) = 0 and l.(G p) = 0.
std::optional<Eigen::Matrix3d> from_points_and_lines(const FitTerms& terms) {
    std::vector<Eigen::Vector2d> pixels;
    for (const PointTerm& term : terms.points)
        pixels.push_back(term.pixel);
    std::vector<const CurveTerm*> straight;
    for (const CurveTerm& term : terms.curves) {
        if (term.curve->pieces.size() == 1 && term.curve->pieces[0].radius_m == 0.0)
            straight.push_back(&term);
    }
    for (const CurveTerm* term : straight)
        pixels.push_back(term->pixel);
    const auto equations = static_cast<Eigen::Index>(2 * terms.points.size() + straight.size());
    if (equations < 8) return std::nullopt;
    const Eigen::Matrix3d from_pixels = normaliser(pixels);
    constexpr double rink_scale_m = 10.0;
    Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(std::max<Eigen::Index>(equations, 9), 9);
    Eigen::Index row = 0;
    for (const PointTerm& term : terms.points) {
        const Eigen::RowVector3d pixel = (from_pixels * term.pixel.homogeneous()).transpose();
        const Eigen::Vector2d ice = term.ice / rink_scale_m;
        rows.block<1, 3>(row, 0) = pixel;
        rows.block<1, 3>(row++, 6) = -ice.x() * pixel;
        rows.block<1, 3>(row, 3) = pixel;
        rows.block<1, 3>(row++, 6) = -ice.y() * pixel;
    }
    for (const CurveTerm* term : straight) {
        const CurvePiece& piece = term->curve->pieces[0];
        const IcePoint along = (piece.to - piece.from) * (1.0 / length(piece.to - piece.from));
        const IcePoint across{-along.y_m, along.x_m};
        const Eigen::RowVector3d pixel = (from_pixels * term->pixel.homogeneous()).transpose();
        rows.block<1, 3>(row, 0) = across.x_m * pixel;
        rows.block<1, 3>(row, 3) = across.y_m * pixel;
        rows.block<1, 3>(row++, 6) = -dot(across, piece.from) / rink_scale_m * pixel;
    }
    const RightSingular singular = right_singular(rows);
    if (!(singular.values(7) > 1e-6 * singular.values(0))) return std::nullopt;
    const Eigen::Matrix<double, 9, 1> numbers = singular.vectors.col(8);
    Eigen::Matrix3d ice_from_image = Eigen::Map<const RowMatrix3>(numbers.data());
    ice_from_image =
        Eigen::Vector3d{rink_scale_m, rink_scale_m, 1.0}.asDiagonal() * ice_from_image * from_pixels;
    if (!(std::abs(ice_from_image.determinant()) > 0.0)) return std::nullopt;
    return Eigen::Matrix3d{ice_from_image.inverse()};
}

/// A pinhole camera with its picture not yet scaled or moved: x to the right, y down, through the aim.
Eigen::Matrix3d pinhole(const Eigen::Vector3d& position, const Eigen::Vector2d& aim) {
    const Eigen::Vector3d ahead = (Eigen::Vector3d{aim.x(), aim.y(), 0.0} - position).normalized();
    const Eigen::Matrix3d camera = level_axes(ahead);
    Eigen::Matrix3d matrix;
    matrix << camera.leftCols<2>(), -camera * position;
    return matrix;
}

/// The matrix, scaled and moved in the picture so that it puts the points near their pixels; none when it sees them
/// the wrong way round.
std::optional<Eigen::Matrix3d> laid_on_pixels(const Eigen::Matrix3d& unit, const FitTerms& terms) {
    const double count = static_cast<double>(terms.points.size());
    std::vector<Eigen::Vector2d> seen;
    Eigen::Vector2d middle = Eigen::Vector2d::Zero(), seen_middle = Eigen::Vector2d::Zero();
    for (const PointTerm& term : terms.points) {
        seen.push_back((unit * term.ice.homogeneous()).hnormalized());
        seen_middle += seen.back() / count;
        middle += term.pixel / count;
    }
    double overlap = 0.0, spread = 0.0;
    for (std::size_t i = 0; i < seen.size(); ++i) {
        overlap += (terms.points[i].pixel - middle).dot(seen[i] - seen_middle);
        spread += (seen[i] - seen_middle).squaredNorm();
    }
    if (!(overlap > 0.0)) return std::nullopt;
    const double scale = overlap / spread;
    Eigen::Matrix3d place = Eigen::Matrix3d::Identity();
    place.diagonal().head<2>().setConstant(scale);
    place.topRightCorner<2, 1>() = middle - scale * seen_middle;
    return place * unit;
}

/// Squared pixels over all clicks; none when a curve that was clicked is out of its sight.
std::optional<double> cost_of(const RowMatrix3& matrix, const FitTerms& terms, ImageSize image) {
    double cost = 0.0;
    for (const PointTerm& term : terms.points)
        cost += (term.pixel - (matrix * term.ice.homogeneous()).hnormalized()).squaredNorm();
    for (const CurveTerm& term : terms.curves) {
        Eigen::Vector2d offset;
        double distance_px = 0.0;
        if (!across_curve(matrix, lens_of(image), 0.0, term, offset, distance_px)) return std::nullopt;
        cost += std::min(distance_px * distance_px, 1e6);
    }
    return cost;
}

/// Cameras in the stands all around, each scaled and moved so that it puts the points near their pixels.
std::vector<Eigen::Matrix3d> from_grid(const FitTerms& terms, ImageSize image, std::size_t most) {
    if (terms.points.size() < 2) return {};
    Eigen::Vector2d aim = Eigen::Vector2d::Zero();
    for (const PointTerm& term : terms.points)
        aim += term.ice / static_cast<double>(terms.points.size());
    struct Candidate {
        double cost;
        Eigen::Matrix3d matrix;
    };
    std::vector<Candidate> candidates;
    for (int azimuth = 0; azimuth < 360; azimuth += 15) {
        for (const double away_m : {12.0, 25.0, 45.0}) {
            for (const double height_m : {3.5, 7.0, 14.0}) {
                const double angle = to_radians(azimuth);
                const auto laid = laid_on_pixels(pinhole({aim.x() + away_m * std::cos(angle),
                                                          aim.y() + away_m * std::sin(angle), height_m},
                                                         aim),
                                                 terms);
                if (!laid) continue;
                if (const auto cost = cost_of(*laid, terms, image)) candidates.push_back({*cost, *laid});
            }
        }
    }
    std::ranges::sort(candidates, {}, &Candidate::cost);
    std::vector<Eigen::Matrix3d> best;
    for (const Candidate& candidate : candidates) {
        if (best.size() < most) best.push_back(candidate.matrix);
    }
    return best;
}

} // namespace

std::optional<Eigen::Matrix3d> linear_fit(const FitTerms& terms) {
    std::optional<Eigen::Matrix3d> matrix = from_points(terms);
    if (!matrix || !face_forward(*matrix, terms)) return std::nullopt;
    return matrix;
}

std::vector<Eigen::Matrix3d> fit_starts(const FitTerms& terms, ImageSize image, std::size_t cameras) {
    std::vector<Eigen::Matrix3d> starts;
    if (const auto start = linear_fit(terms)) starts.push_back(*start);
    constexpr std::size_t enough = 6; // points, with which the linear start is seldom far off
    if (!starts.empty() && terms.points.size() >= enough) return starts;
    std::optional<Eigen::Matrix3d> start = from_points_and_lines(terms);
    if (start && face_forward(*start, terms)) starts.push_back(*start);
    for (const Eigen::Matrix3d& camera : from_grid(terms, image, cameras))
        starts.push_back(camera);
    return starts;
}

} // namespace ropeline
