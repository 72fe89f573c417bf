#include "camera/fit_solve.h"

#include "camera/dense.h"
#include "camera/fit_residuals.h"
#include "camera/homography.h"
#include "camera/square_pixels.h"

#include <Eigen/LU>
#include <ceres/tiny_solver.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

namespace ropeline {
namespace {

using Matrix9 = Eigen::Matrix<double, 9, 9>;
using Matrix10 = Eigen::Matrix<double, 10, 10>;
using Numbers = Eigen::Matrix<double, 9, 1>; // of the matrix, row by row

constexpr double most_radial = 0.8; // of either sign, at the corner of the picture

/// Both similarities, so that the solver works on numbers near one.
struct FitScales {
    Eigen::Matrix3d ice;         ///< normalised ice from ice
    Eigen::Matrix3d pixels_back; ///< pixels from normalised pixels
    Lens lens;
};

FitScales scales_of(const FitTerms& terms, ImageSize image) {
    std::vector<Eigen::Vector2d> ice, pixels;
    for (const PointTerm& term : terms.points) {
        ice.push_back(term.ice);
        pixels.push_back(term.pixel);
    }
    for (const CurveTerm& term : terms.curves)
        pixels.push_back(term.pixel);
    if (ice.size() < 4) ice = {{-8.0, 0.0}, {8.0, 0.0}, {-8.0, 16.0}, {8.0, 16.0}}; // the size of a zone
    return {normaliser(ice), normaliser(pixels).inverse(), lens_of(image)};
}

/// Row by row, vec(A X B) = kron(A, B^T) vec(X).
Matrix9 row_major_kronecker(const Eigen::Matrix3d& left, const Eigen::Matrix3d& right) {
    Matrix9 product;
    for (int row = 0; row < 3; ++row) {
        for (int column = 0; column < 3; ++column) {
            product.block<3, 3>(3 * row, 3 * column) = left(row, column) * right.transpose();
        }
    }
    return product;
}

/// The residuals as a function of eight steps away from a matrix of unit length, square to it, and of
/// `radial` when there is a ninth parameter.
class FitFunction {
public:
    using Scalar = double;
    enum { NUM_RESIDUALS = Eigen::Dynamic, NUM_PARAMETERS = Eigen::Dynamic };

    FitFunction(const FitTerms& terms, const FitScales& scales, const Numbers& around, bool with_radial,
                const CameraPrior& prior, bool any_focal = false)
        : terms_(terms), scales_(scales), around_(around), with_radial_(with_radial), any_focal_(any_focal),
          prior_(prior) {
        // Householder's reflection that turns `around` onto the first axis leaves eight columns square to it.
        Numbers mirror = around.normalized();
        mirror(0) += mirror(0) < 0.0 ? -1.0 : 1.0;
        basis_ = -2.0 / mirror.squaredNorm() * mirror * mirror.tail<8>().transpose();
        basis_.bottomRows<8>() += Eigen::Matrix<double, 8, 8>::Identity();
        numbers_by_parameters_.setZero(10, NumParameters());
        numbers_by_parameters_.topLeftCorner(9, 8) =
            row_major_kronecker(scales.pixels_back, scales.ice) * basis_;
        if (with_radial) numbers_by_parameters_(9, 8) = 1.0;
    }

    int NumResiduals() const {
        return terms_.equations() + (prior_.square_px > 0.0 ? 2 : 0) +
               (prior_.lens_px > 0.0 && with_radial_ ? 1 : 0);
    }
    int NumParameters() const { return with_radial_ ? 9 : 8; }
    const Eigen::Matrix<double, 9, 8>& basis() const { return basis_; }

    /// A place the camera cannot see counts as very far, so that the solver turns back.
    bool operator()(const double* parameters, double* residuals, double* jacobian) const {
        constexpr double unseen_px = 1e6;
        const Eigen::Map<const Eigen::Matrix<double, 8, 1>> steps(parameters);
        const Numbers numbers = around_ + basis_ * steps;
        const RowMatrix3 matrix =
            scales_.pixels_back * Eigen::Map<const RowMatrix3>(numbers.data()) * scales_.ice;
        const double radial = with_radial_ ? parameters[8] : 0.0;
        const bool wild = std::abs(radial) > most_radial;
        Eigen::Map<Eigen::MatrixXd> slopes(jacobian, jacobian ? NumResiduals() : 0, NumParameters());
        slopes.setZero();
        int row = 0;
        for (const PointTerm& term : terms_.points) {
            Eigen::Vector2d pixel = Eigen::Vector2d::Constant(unseen_px);
            if (!wild && project(matrix, scales_.lens, radial, term.ice, pixel) && jacobian) {
                slopes.middleRows<2>(row) =
                    -term.weight * pixel_slopes(matrix, scales_.lens, radial, term.ice, pixel).by_fit *
                    numbers_by_parameters_;
            }
            const Eigen::Vector2d off = term.weight * (term.pixel - pixel);
            residuals[row++] = off.x();
            residuals[row++] = off.y();
        }
        for (const CurveTerm& term : terms_.curves) {
            residuals[row] = unseen_px;
            Eigen::Matrix<double, 1, 10> slope;
            Eigen::Vector2d offset;
            if (!wild && jacobian &&
                across_curve(matrix, scales_.lens, radial, term, residuals[row], slope)) {
                slopes.row(row) = term.weight * slope * numbers_by_parameters_;
            } else if (!wild && !jacobian) {
                across_curve(matrix, scales_.lens, radial, term, offset, residuals[row]);
            }
            residuals[row++] *= term.weight;
        }
        add_prior(steps, radial, residuals + row, jacobian ? &slopes : nullptr, row);
        return true;
    }

private:
    Eigen::Vector2d off_square(const Eigen::Matrix<double, 8, 1>& steps) const {
        const Numbers numbers = around_ + basis_ * steps;
        const Eigen::Matrix3d normalised = Eigen::Map<const RowMatrix3>(numbers.data());
        return prior_.square_px *
               squareness(scales_.pixels_back * normalised * scales_.ice, scales_.lens, any_focal_);
    }

    void add_prior(const Eigen::Matrix<double, 8, 1>& steps, double radial, double* residuals,
                   Eigen::Map<Eigen::MatrixXd>* slopes, int row) const {
        if (prior_.square_px > 0.0) {
            const Eigen::Vector2d off = off_square(steps);
            residuals[0] = off.x();
            residuals[1] = off.y();
            constexpr double h = 1e-7; // of numbers of unit length
            for (int k = 0; slopes && k < 8; ++k) {
                const Eigen::Matrix<double, 8, 1> step = Eigen::Matrix<double, 8, 1>::Unit(k) * h;
                slopes->block<2, 1>(row, k) =
                    (off_square(steps + step) - off_square(steps - step)) / (2.0 * h);
            }
            residuals += 2;
            row += 2;
        }
        if (prior_.lens_px > 0.0 && with_radial_) {
            residuals[0] = prior_.lens_px * radial;
            if (slopes) (*slopes)(row, 8) = prior_.lens_px;
        }
    }

    const FitTerms& terms_;
    const FitScales& scales_;
    Numbers around_;
    Eigen::Matrix<double, 9, 8> basis_;
    bool with_radial_, any_focal_;
    CameraPrior prior_;
    Eigen::MatrixXd numbers_by_parameters_; ///< ten rows: the matrix in pixels, then `radial`
};

struct Solution {
    Numbers numbers = Numbers::Zero(); ///< unit length
    double radial = 0.0;
    double cost = std::numeric_limits<double>::infinity();
};

Solution run(const FitTerms& terms, const FitScales& scales, Solution at, bool with_radial,
             const CameraPrior& prior) {
    // Twice, the second time about the place found: the steps are square to the matrix they start from.
    for (int round = 0; round < 2; ++round) {
        const FitFunction function(terms, scales, at.numbers, with_radial, prior);
        ceres::TinySolver<FitFunction> solver;
        solver.options.max_num_iterations = 100;
        solver.options.gradient_tolerance = 1e-14;
        solver.options.parameter_tolerance = 1e-14;
        solver.options.function_tolerance = 1e-13; // a step of 1e-7 px, and the second round takes one more
        solver.options.cost_threshold = 1e-24;
        Eigen::VectorXd parameters = Eigen::VectorXd::Zero(function.NumParameters());
        if (with_radial) parameters(8) = at.radial;
        solver.Solve(function, &parameters);
        at.numbers = (at.numbers + function.basis() * parameters.head<8>()).normalized();
        if (with_radial) at.radial = parameters(8);
        at.cost = solver.summary.final_cost;
    }
    if (!at.numbers.allFinite() || !std::isfinite(at.cost)) at.cost = std::numeric_limits<double>::infinity();
    return at;
}

/// Best first.
std::vector<Solution> solutions_from(std::span<const Eigen::Matrix3d> starts, const FitTerms& terms,
                                     const FitScales& scales, bool with_radial, const CameraPrior& prior) {
    std::vector<Solution> found;
    for (const Eigen::Matrix3d& start : starts) {
        const RowMatrix3 normalised = scales.pixels_back.inverse() * start * scales.ice.inverse();
        Solution at{Eigen::Map<const Numbers>(normalised.data()).normalized(), 0.0, 0.0};
        at = run(terms, scales, at, false, prior);
        if (with_radial) at = run(terms, scales, at, true, prior);
        if (std::isfinite(at.cost)) found.push_back(at);
    }
    std::ranges::sort(found, {}, &Solution::cost);
    return found;
}

/// From the likeliest starts, and where few clicks leave all of those at the wrong camera, from many more.
std::vector<Solution> solutions_of(const FitTerms& terms, ImageSize image, const FitScales& scales,
                                   bool with_radial, const CameraPrior& prior, int freedom) {
    const auto starts = fit_starts(terms, image);
    const auto found = solutions_from(starts, terms, scales, with_radial, prior);
    constexpr double wrong_px = 3.0; // of each equation
    constexpr std::size_t more = 48;
    const bool right =
        !found.empty() && 2.0 * found.front().cost <= wrong_px * wrong_px * std::max(freedom, 1);
    if (right || starts.size() <= 2) return found; // no camera among them: points alone fix the matrix
    return solutions_from(fit_starts(terms, image, more), terms, scales, with_radial, prior);
}

/// Covariance of the normalised numbers and `radial` for residuals of one pixel; nothing where they are not
/// fixed.
std::optional<Matrix10> covariance_of(const FitTerms& terms, const FitScales& scales, const Solution& at,
                                      bool with_radial, const CameraPrior& prior) {
    const FitFunction function(terms, scales, at.numbers, with_radial, prior, true);
    const int size = function.NumParameters();
    Eigen::VectorXd parameters = Eigen::VectorXd::Zero(size);
    if (with_radial) parameters(8) = at.radial;
    Eigen::VectorXd residuals(function.NumResiduals());
    Eigen::MatrixXd slopes(function.NumResiduals(), size);
    function(parameters.data(), residuals.data(), slopes.data());
    if (!slopes.allFinite()) return std::nullopt;
    const auto [strengths, directions] = right_singular(slopes);
    constexpr double least_strength = 1e-7;
    if (!(strengths(size - 1) > least_strength * strengths(0))) return std::nullopt;
    Eigen::MatrixXd lift = Eigen::MatrixXd::Zero(10, size);
    lift.topLeftCorner(9, 8) = function.basis();
    if (with_radial) lift(9, 8) = 1.0;
    const Eigen::MatrixXd lifted = lift * directions * strengths.cwiseInverse().asDiagonal();
    return Matrix10{lifted * lifted.transpose()};
}

/// Last number to 1 or -1 (unit length where it is next to nothing); the covariance follows.
void fix_scale(Eigen::Matrix3d& matrix, Matrix10& covariance) {
    RowMatrix3 by_row = matrix;
    const Eigen::Map<Numbers> numbers(by_row.data());
    const double last = numbers(8);
    const double norm = numbers.norm();
    const bool by_last = std::abs(last) > 1e-9 * norm;
    const double scale = by_last ? std::abs(last) : norm;
    Matrix10 slope = Matrix10::Identity();
    slope.topLeftCorner<9, 9>() /= scale;
    if (by_last) {
        slope.topLeftCorner<9, 9>().col(8) -= numbers / (last * scale);
        slope.row(8).setZero(); // exactly, not to rounding
    } else {
        slope.topLeftCorner<9, 9>() -= numbers * numbers.transpose() / (norm * norm * norm);
    }
    covariance = slope * covariance * slope.transpose();
    matrix /= scale;
}

bool fill_residuals(const FitTerms& terms, const Lens& lens, SolvedFit& fit) {
    const RowMatrix3 matrix = fit.image_from_ice;
    for (const PointTerm& term : terms.points) {
        Eigen::Vector2d pixel;
        if (!project(matrix, lens, fit.radial, term.ice, pixel)) return false;
        fit.point_residuals.emplace_back(term.pixel - pixel);
        fit.squared_error += (term.weight * fit.point_residuals.back()).squaredNorm();
    }
    for (const CurveTerm& term : terms.curves) {
        Eigen::Vector2d offset;
        double distance_px = 0.0;
        if (!across_curve(matrix, lens, fit.radial, term, offset, distance_px)) return false;
        fit.curve_residuals.push_back(offset);
        fit.squared_error += (term.weight * offset).squaredNorm();
    }
    return true;
}

} // namespace

std::optional<SolvedFit> solve_fit(const FitTerms& terms, ImageSize image, bool with_radial,
                                   const CameraPrior& prior, const SolvedFit* start_at) {
    // The two numbers of squareness share a focal length that is free: one equation.
    const int known = (prior.square_px > 0.0 ? 1 : 0) + (prior.lens_px > 0.0 && with_radial ? 1 : 0);
    const int freedom = terms.equations() + known - (with_radial ? 9 : 8);
    if (freedom < 0) return std::nullopt;
    const FitScales scales = scales_of(terms, image);
    const std::vector<Solution> found =
        start_at ? solutions_from(std::vector{start_at->image_from_ice}, terms, scales, with_radial, prior)
                 : solutions_of(terms, image, scales, with_radial, prior, freedom);
    if (found.empty()) return std::nullopt;
    const Solution& best = found.front();
    const std::optional<Matrix10> covariance = covariance_of(terms, scales, best, with_radial, prior);
    if (!covariance) return std::nullopt;

    SolvedFit fit;
    const Eigen::Matrix3d normalised = Eigen::Map<const RowMatrix3>(best.numbers.data());
    fit.image_from_ice = scales.pixels_back * normalised * scales.ice;
    fit.radial = best.radial;
    fit.freedom = freedom;
    Matrix10 to_pixels = Matrix10::Identity();
    to_pixels.topLeftCorner<9, 9>() = row_major_kronecker(scales.pixels_back, scales.ice);
    fit.unit_covariance = to_pixels * *covariance * to_pixels.transpose();
    fix_scale(fit.image_from_ice, fit.unit_covariance);
    if (!fill_residuals(terms, scales.lens, fit)) return std::nullopt;
    constexpr double nearly = 12.0; // squared pixels, of a cost that counts half of them
    for (const Solution& other : found) {
        const bool same =
            (other.numbers - best.numbers).norm() < 1e-3 || (other.numbers + best.numbers).norm() < 1e-3;
        if (same || other.cost > best.cost + nearly / 2.0) continue;
        fit.rival = scales.pixels_back * Eigen::Map<const RowMatrix3>(other.numbers.data()) * scales.ice;
        break;
    }
    return fit;
}

} // namespace ropeline
