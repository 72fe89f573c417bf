#include "tally/small_matrix.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

std::optional<Inverse> inverse_of(const std::vector<double>& matrix, int size) {
    const auto n = static_cast<std::size_t>(size);
    std::vector<double> lower(n * n), upside(n * n); // lower: Cholesky's factor; upside: its inverse
    Inverse made{std::vector<double>(n * n), 0.0};
    for (std::size_t j = 0; j < n; ++j)
        for (std::size_t i = j; i < n; ++i) {
            double sum = matrix[i * n + j];
            for (std::size_t k = 0; k < j; ++k)
                sum -= lower[i * n + k] * lower[j * n + k];
            if (i == j && !(sum > 1e-13 * matrix[i * n + i])) return std::nullopt;
            lower[i * n + j] = i == j ? std::sqrt(sum) : sum / lower[j * n + j];
        }
    for (std::size_t j = 0; j < n; ++j) {
        made.log_determinant += 2.0 * std::log(lower[j * n + j]);
        upside[j * n + j] = 1.0 / lower[j * n + j];
        for (std::size_t i = j + 1; i < n; ++i) {
            double sum = 0.0;
            for (std::size_t k = j; k < i; ++k)
                sum -= lower[i * n + k] * upside[k * n + j];
            upside[i * n + j] = sum / lower[i * n + i];
        }
    }
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j)
            for (std::size_t k = std::max(i, j); k < n; ++k)
                made.matrix[i * n + j] += upside[k * n + i] * upside[k * n + j];
    return made;
}

} // namespace ropeline
