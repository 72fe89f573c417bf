#include "camera/fit_solve.h"

#include "camera/homography.h"
#include "camera/projection.h"

#include <Eigen/LU>
#include <ceres/ceres.h>

#include <algorithm>
#include <cmath>
#include <memory>

namespace ropeline {
namespace {

using Matrix10 = Eigen::Matrix<double, 10, 10>;

/// Both similarities, so that the solver works on numbers near one.
struct Scales {
    Eigen::Matrix3d ice;         ///< normalised ice from ice
    Eigen::Matrix3d pixels_back; ///< pixels from normalised pixels
    Lens lens;
};

struct PointResidual {
    PointPair pair;
    const Scales* scales;

    template <class T>
    bool operator()(const T* numbers, const T* radial, T* residual) const {
        const Eigen::Map<const RowMatrix3<T>> normalised(numbers);
        const RowMatrix3<T> image_from_ice =
            scales->pixels_back.cast<T>() * normalised * scales->ice.cast<T>();
        Vector2<T> pixel;
        if (!project<T>(image_from_ice, scales->lens, *radial, pair.ice.cast<T>(), pixel)) return false;
        residual[0] = T(pair.pixel.x()) - pixel.x();
        residual[1] = T(pair.pixel.y()) - pixel.y();
        return true;
    }
};

/// Sign such that all points lie in front of the camera; false where no sign does it.
bool face_forward(Eigen::Matrix3d& image_from_ice, std::span<const PointPair> pairs) {
    const auto behind = std::ranges::count_if(pairs, [&](const PointPair& pair) {
        return image_from_ice.row(2).dot(pair.ice.homogeneous()) <= 0.0;
    });
    if (behind == std::ssize(pairs)) {
        image_from_ice = -image_from_ice;
        return true;
    }
    return behind == 0;
}

/// Row by row, vec(A X B) = kron(A, B^T) vec(X).
Eigen::Matrix<double, 9, 9> row_major_kronecker(const Eigen::Matrix3d& left, const Eigen::Matrix3d& right) {
    Eigen::Matrix<double, 9, 9> product;
    for (int row = 0; row < 3; ++row) {
        for (int column = 0; column < 3; ++column) {
            product.block<3, 3>(3 * row, 3 * column) = left(row, column) * right.transpose();
        }
    }
    return product;
}

/// Last number to 1 or -1 (unit length where it is next to nothing); the covariance follows.
void fix_scale(Eigen::Matrix3d& matrix, Matrix10& covariance) {
    Eigen::Matrix<double, 3, 3, Eigen::RowMajor> by_row = matrix;
    const Eigen::Map<Eigen::Matrix<double, 9, 1>> numbers(by_row.data());
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

} // namespace

std::optional<SolvedFit> solve_fit(std::span<const PointPair> pairs, ImageSize image) {
    std::vector<Eigen::Vector2d> ice, pixels;
    for (const PointPair& pair : pairs) {
        ice.push_back(pair.ice);
        pixels.push_back(pair.pixel);
    }
    const Eigen::Matrix3d normalised_from_ice = normaliser(ice);
    const Eigen::Matrix3d normalised_from_pixels = normaliser(pixels);
    for (Eigen::Vector2d& point : ice)
        point = (normalised_from_ice * point.homogeneous()).hnormalized();
    for (Eigen::Vector2d& point : pixels)
        point = (normalised_from_pixels * point.homogeneous()).hnormalized();
    const LinearFit linear = direct_linear_transform(ice, pixels);
    if (!(linear.conditioning > 1e-9)) return std::nullopt;

    const Scales scales{normalised_from_ice, normalised_from_pixels.inverse(), lens_of(image)};
    Eigen::Matrix3d image_from_ice = scales.pixels_back * linear.target_from_source * scales.ice;
    if (!face_forward(image_from_ice, pairs)) return std::nullopt;
    RowMatrix3<double> numbers = normalised_from_pixels * image_from_ice * normalised_from_ice.inverse();
    numbers /= numbers.norm();

    double radial = 0.0;
    ceres::Problem problem;
    problem.AddParameterBlock(numbers.data(), 9, new ceres::SphereManifold<9>());
    problem.AddParameterBlock(&radial, 1);
    problem.SetParameterBlockConstant(&radial);
    for (const PointPair& pair : pairs) {
        problem.AddResidualBlock(
            new ceres::AutoDiffCostFunction<PointResidual, 2, 9, 1>(new PointResidual{pair, &scales}),
            nullptr, numbers.data(), &radial);
    }
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_QR;
    options.max_num_iterations = 100;
    options.function_tolerance = 1e-16;
    options.parameter_tolerance = 1e-14;
    options.gradient_tolerance = 1e-14;
    options.logging_type = ceres::SILENT;
    options.num_threads = 1;
    ceres::Solver::Summary summary;
    ceres::Solve(options, &problem, &summary);
    if (!summary.IsSolutionUsable()) return std::nullopt;

    ceres::Covariance::Options covariance_options;
    covariance_options.algorithm_type = ceres::DENSE_SVD;
    covariance_options.num_threads = 1;
    ceres::Covariance covariance(covariance_options);
    const std::vector<std::pair<const double*, const double*>> blocks{{numbers.data(), numbers.data()}};
    if (!covariance.Compute(blocks, &problem)) return std::nullopt;
    Eigen::Matrix<double, 9, 9, Eigen::RowMajor> of_numbers;
    covariance.GetCovarianceBlock(numbers.data(), numbers.data(), of_numbers.data());

    SolvedFit fit;
    fit.image_from_ice = scales.pixels_back * numbers * scales.ice;
    fit.radial = radial;
    const auto to_pixels = row_major_kronecker(scales.pixels_back, scales.ice);
    fit.unit_covariance.setZero();
    fit.unit_covariance.topLeftCorner<9, 9>() = to_pixels * of_numbers * to_pixels.transpose();
    fix_scale(fit.image_from_ice, fit.unit_covariance);
    const RowMatrix3<double> final_matrix = fit.image_from_ice;
    for (const PointPair& pair : pairs) {
        Eigen::Vector2d pixel;
        if (!project<double>(final_matrix, scales.lens, radial, pair.ice, pixel)) return std::nullopt;
        fit.residuals.emplace_back(pair.pixel - pixel);
        fit.squared_error += fit.residuals.back().squaredNorm();
    }
    fit.freedom = static_cast<int>(2 * pairs.size()) - 8;
    return fit;
}

} // namespace ropeline
