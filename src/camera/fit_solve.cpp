#include "camera/fit_solve.h"

#include "camera/fit_residuals.h"
#include "camera/homography.h"

#include <Eigen/LU>
#include <Eigen/QR>
#include <Eigen/SVD>
#include <ceres/jet.h>
#include <ceres/tiny_solver.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

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

/// The residuals as a function of eight steps away from a matrix of unit length, square to it, and of
/// `radial` when there is a ninth parameter.
template <int parameter_count>
class FitFunction {
public:
    using Scalar = double;
    enum { NUM_RESIDUALS = Eigen::Dynamic, NUM_PARAMETERS = parameter_count };

    FitFunction(const FitTerms& terms, const FitScales& scales, const Numbers& around)
        : terms_(terms), scales_(scales), around_(around) {
        const Eigen::HouseholderQR<Numbers> qr(around);
        basis_ = (qr.householderQ() * Matrix9::Identity()).rightCols<8>();
    }

    int NumResiduals() const { return terms_.equations(); }
    const Eigen::Matrix<double, 9, 8>& basis() const { return basis_; }

    template <class T>
    RowMatrix3<T> image_from_ice(const T* parameters) const {
        RowMatrix3<T> normalised;
        for (int i = 0; i < 9; ++i) {
            T number(around_(i));
            for (int k = 0; k < 8; ++k)
                number += basis_(i, k) * parameters[k];
            normalised(i / 3, i % 3) = number;
        }
        return scales_.pixels_back.cast<T>() * normalised * scales_.ice.cast<T>();
    }

    bool operator()(const double* parameters, double* residuals, double* jacobian) const {
        if (jacobian == nullptr) {
            std::vector<double> values(static_cast<std::size_t>(NumResiduals()));
            evaluate<double>(parameters, values.data());
            std::ranges::copy(values, residuals);
            return true;
        }
        using Jet = ceres::Jet<double, parameter_count>;
        std::array<Jet, parameter_count> at;
        for (int k = 0; k < parameter_count; ++k)
            at[static_cast<std::size_t>(k)] = Jet(parameters[k], k);
        std::vector<Jet> values(static_cast<std::size_t>(NumResiduals()));
        evaluate<Jet>(at.data(), values.data());
        Eigen::Map<Eigen::Matrix<double, Eigen::Dynamic, parameter_count>> slopes(jacobian, NumResiduals(),
                                                                                  parameter_count);
        for (int i = 0; i < NumResiduals(); ++i) {
            residuals[i] = values[static_cast<std::size_t>(i)].a;
            slopes.row(i) = values[static_cast<std::size_t>(i)].v.transpose();
        }
        return true;
    }

private:
    /// A place the camera cannot see counts as very far, so that the solver turns back.
    template <class T>
    void evaluate(const T* parameters, T* residual) const {
        constexpr double unseen_px = 1e6;
        const RowMatrix3<T> matrix = image_from_ice(parameters);
        T radial(0.0);
        if constexpr (parameter_count == 9) radial = parameters[8];
        const bool wild = radial > most_radial || radial < -most_radial;
        for (const PointTerm& term : terms_.points) {
            Vector2<T> pixel = Vector2<T>::Constant(T(unseen_px));
            if (!wild) project<T>(matrix, scales_.lens, radial, term.ice.template cast<T>(), pixel);
            *residual++ = T(term.pixel.x()) - pixel.x();
            *residual++ = T(term.pixel.y()) - pixel.y();
        }
        for (const CurveTerm& term : terms_.curves) {
            Vector2<T> offset;
            *residual = T(unseen_px);
            if (!wild) across_curve<T>(matrix, scales_.lens, radial, term, offset, *residual);
            ++residual;
        }
    }

    const FitTerms& terms_;
    const FitScales& scales_;
    Numbers around_;
    Eigen::Matrix<double, 9, 8> basis_;
};

struct Solution {
    Numbers numbers = Numbers::Zero(); ///< unit length
    double radial = 0.0;
    double cost = std::numeric_limits<double>::infinity();
};

template <int parameter_count>
Solution run(const FitTerms& terms, const FitScales& scales, Solution at) {
    using Function = FitFunction<parameter_count>;
    // Twice, the second time about the place found: the steps are square to the matrix they start from.
    for (int round = 0; round < 2; ++round) {
        const Function function(terms, scales, at.numbers);
        ceres::TinySolver<Function> solver;
        solver.options.max_num_iterations = 100;
        solver.options.gradient_tolerance = 1e-14;
        solver.options.parameter_tolerance = 1e-14;
        solver.options.function_tolerance = 1e-13; // a step of 1e-7 px, and the second round takes one more
        solver.options.cost_threshold = 1e-24;
        Eigen::Matrix<double, parameter_count, 1> parameters =
            Eigen::Matrix<double, parameter_count, 1>::Zero();
        if constexpr (parameter_count == 9) parameters(8) = at.radial;
        solver.Solve(function, &parameters);
        at.numbers = (at.numbers + function.basis() * parameters.template head<8>()).normalized();
        if constexpr (parameter_count == 9) at.radial = parameters(8);
        at.cost = solver.summary.final_cost;
    }
    if (!at.numbers.allFinite() || !std::isfinite(at.cost)) at.cost = std::numeric_limits<double>::infinity();
    return at;
}

/// Covariance of the normalised numbers and `radial` for residuals of one pixel; nothing where they are not
/// fixed.
template <int parameter_count>
std::optional<Matrix10> covariance_of(const FitTerms& terms, const FitScales& scales, const Solution& at) {
    const FitFunction<parameter_count> function(terms, scales, at.numbers);
    Eigen::Matrix<double, parameter_count, 1> parameters = Eigen::Matrix<double, parameter_count, 1>::Zero();
    if constexpr (parameter_count == 9) parameters(8) = at.radial;
    Eigen::VectorXd residuals(function.NumResiduals());
    Eigen::MatrixXd slopes(function.NumResiduals(), parameter_count);
    function(parameters.data(), residuals.data(), slopes.data());
    if (!slopes.allFinite()) return std::nullopt;
    const Eigen::JacobiSVD<Eigen::MatrixXd> svd(slopes, Eigen::ComputeThinV);
    const Eigen::VectorXd& strengths = svd.singularValues();
    constexpr double least_strength = 1e-7;
    if (!(strengths(parameter_count - 1) > least_strength * strengths(0))) return std::nullopt;
    const Eigen::MatrixXd root = svd.matrixV() * strengths.cwiseInverse().asDiagonal();
    Eigen::Matrix<double, 10, parameter_count> lift = Eigen::Matrix<double, 10, parameter_count>::Zero();
    lift.template topLeftCorner<9, 8>() = function.basis();
    if constexpr (parameter_count == 9) lift(9, 8) = 1.0;
    const Eigen::Matrix<double, 10, Eigen::Dynamic> lifted = lift * root;
    return Matrix10{lifted * lifted.transpose()};
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

/// Last number to 1 or -1 (unit length where it is next to nothing); the covariance follows.
void fix_scale(Eigen::Matrix3d& matrix, Matrix10& covariance) {
    RowMatrix3<double> by_row = matrix;
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
    const RowMatrix3<double> matrix = fit.image_from_ice;
    for (const PointTerm& term : terms.points) {
        Eigen::Vector2d pixel;
        if (!project<double>(matrix, lens, fit.radial, term.ice, pixel)) return false;
        fit.point_residuals.emplace_back(term.pixel - pixel);
        fit.squared_error += fit.point_residuals.back().squaredNorm();
    }
    for (const CurveTerm& term : terms.curves) {
        Eigen::Vector2d offset;
        double distance_px = 0.0;
        if (!across_curve<double>(matrix, lens, fit.radial, term, offset, distance_px)) return false;
        fit.curve_residuals.push_back(offset);
        fit.squared_error += offset.squaredNorm();
    }
    return true;
}

} // namespace

std::optional<SolvedFit> solve_fit(const FitTerms& terms, ImageSize image, bool with_radial) {
    const int freedom = terms.equations() - (with_radial ? 9 : 8);
    if (freedom < 0) return std::nullopt;
    const FitScales scales = scales_of(terms, image);
    Solution best;
    for (const Eigen::Matrix3d& start : fit_starts(terms, image)) {
        const RowMatrix3<double> normalised = scales.pixels_back.inverse() * start * scales.ice.inverse();
        Solution at{Eigen::Map<const Numbers>(normalised.data()).normalized(), 0.0, 0.0};
        at = run<8>(terms, scales, at);
        if (with_radial) at = run<9>(terms, scales, at);
        if (at.cost < best.cost) best = at;
    }
    if (!std::isfinite(best.cost)) return std::nullopt;
    const std::optional<Matrix10> covariance =
        with_radial ? covariance_of<9>(terms, scales, best) : covariance_of<8>(terms, scales, best);
    if (!covariance) return std::nullopt;

    SolvedFit fit;
    const Eigen::Matrix3d normalised = Eigen::Map<const RowMatrix3<double>>(best.numbers.data());
    fit.image_from_ice = scales.pixels_back * normalised * scales.ice;
    fit.radial = best.radial;
    fit.freedom = freedom;
    Matrix10 to_pixels = Matrix10::Identity();
    to_pixels.topLeftCorner<9, 9>() = row_major_kronecker(scales.pixels_back, scales.ice);
    fit.unit_covariance = to_pixels * *covariance * to_pixels.transpose();
    fix_scale(fit.image_from_ice, fit.unit_covariance);
    if (!fill_residuals(terms, scales.lens, fit)) return std::nullopt;
    return fit;
}

} // namespace ropeline
