#include "camera/dense.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <Eigen/SVD>

namespace ropeline {

Eigen::MatrixXd product(const Eigen::MatrixXd& left, const Eigen::MatrixXd& right) {
    return left * right;
}

Eigen::MatrixXd inverse_of(const Eigen::MatrixXd& square) {
    return square.inverse();
}

Eigen::MatrixXd solved(const Eigen::MatrixXd& symmetric, const Eigen::MatrixXd& right) {
    return symmetric.ldlt().solve(right);
}

Eigen::MatrixXd whitening(const Eigen::MatrixXd& covariance) {
    return covariance.llt().matrixL().solve(Eigen::MatrixXd::Identity(covariance.rows(), covariance.cols()));
}

RightSingular right_singular(const Eigen::MatrixXd& rows) {
    const Eigen::JacobiSVD<Eigen::MatrixXd> svd(rows, Eigen::ComputeFullV);
    return {svd.singularValues(), svd.matrixV()};
}

} // namespace ropeline
