// Inside src/tally: symmetric positive definite matrices of a handful of columns, row after row.
#pragma once

#include <optional>
#include <vector>

namespace ropeline {

struct Inverse {
    std::vector<double> matrix;
    double log_determinant = 0.0; ///< of the matrix itself
};

/// By Cholesky; nothing when it is not positive definite (columns that depend on each other).
std::optional<Inverse> inverse_of(const std::vector<double>& matrix, int size);

} // namespace ropeline
