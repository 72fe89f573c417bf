// Decompositions and products of matrices in one place and one size: each costs the compiler as much as the rest of its file.
#pragma once

#include <Eigen/Core>

namespace ropeline {

Eigen::MatrixXd product(const Eigen::MatrixXd& left, const Eigen::MatrixXd& right);

Eigen::MatrixXd inverse_of(const Eigen::MatrixXd& square);

/// X of `symmetric` X = `right`.
Eigen::MatrixXd solved(const Eigen::MatrixXd& symmetric, const Eigen::MatrixXd& right);

/// W with W^T W the inverse of a covariance: what it takes to unit variance.
Eigen::MatrixXd whitening(const Eigen::MatrixXd& covariance);

/// Singular values, largest first, and right singular vectors, one a column.
struct RightSingular {
    Eigen::VectorXd values;
    Eigen::MatrixXd vectors;
};

/// `rows` has at least as many rows as columns.
RightSingular right_singular(const Eigen::MatrixXd& rows);

} // namespace ropeline
