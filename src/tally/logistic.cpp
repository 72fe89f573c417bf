#include "tally/logistic.h"

#include "tally/small_matrix.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

namespace ropeline {
namespace {

double log_odds(const LogisticData& data, const std::vector<double>& beta, int row) {
    const double* x = data.x.data() + static_cast<std::ptrdiff_t>(row) * data.columns;
    const double start = data.offset.empty() ? 0.0 : data.offset[static_cast<std::size_t>(row)];
    return std::inner_product(beta.begin(), beta.end(), x, start);
}

double chance_of(double odds) {
    return odds >= 0.0 ? 1.0 / (1.0 + std::exp(-odds)) : std::exp(odds) / (1.0 + std::exp(odds));
}

/// log(1 + exp(odds)) without overflow.
double log_of_one_plus(double odds) {
    return std::max(odds, 0.0) + std::log1p(std::exp(-std::abs(odds)));
}

struct Place {
    std::vector<double> beta, information, chance;
    std::optional<Inverse> inverse; ///< of the information
    double height = 0.0;            ///< log likelihood, with the penalty

    bool is_possible() const { return inverse && std::isfinite(height); }
};

Place place_at(const LogisticData& data, Penalty penalty, std::vector<double> beta) {
    Place place;
    const auto columns = static_cast<std::size_t>(data.columns);
    place.information.assign(columns * columns, 0.0);
    place.chance.resize(data.y.size());
    for (int row = 0; row < data.rows(); ++row) {
        const auto at = static_cast<std::size_t>(row);
        const double odds = log_odds(data, beta, row), chance = chance_of(odds);
        const double* x = data.x.data() + at * columns;
        place.chance[at] = chance;
        place.height += (data.y[at] ? odds : 0.0) - log_of_one_plus(odds);
        const double weight = chance * (1.0 - chance);
        for (std::size_t i = 0; i < columns; ++i)
            for (std::size_t j = 0; j <= i; ++j)
                place.information[i * columns + j] += weight * x[i] * x[j];
    }
    for (std::size_t i = 0; i < columns; ++i)
        for (std::size_t j = i + 1; j < columns; ++j)
            place.information[i * columns + j] = place.information[j * columns + i];
    place.beta = std::move(beta);
    place.inverse = inverse_of(place.information, data.columns);
    if (place.inverse && penalty == Penalty::firth) place.height += 0.5 * place.inverse->log_determinant;
    return place;
}

/// x' M x for a symmetric M.
double squared(const double* x, const std::vector<double>& matrix, std::size_t columns) {
    double sum = 0.0;
    for (std::size_t i = 0; i < columns; ++i) {
        double inner = 0.5 * matrix[i * columns + i] * x[i];
        for (std::size_t j = 0; j < i; ++j)
            inner += matrix[i * columns + j] * x[j];
        sum += 2.0 * x[i] * inner;
    }
    return sum;
}

std::vector<double> slope_at(const LogisticData& data, Penalty penalty, const Place& place) {
    const auto columns = static_cast<std::size_t>(data.columns);
    std::vector<double> slope(columns);
    for (std::size_t row = 0; row < data.y.size(); ++row) {
        const double* x = data.x.data() + row * columns;
        const double chance = place.chance[row];
        double rest = static_cast<double>(data.y[row]) - chance;
        if (penalty == Penalty::firth)
            rest += chance * (1.0 - chance) * squared(x, place.inverse->matrix, columns) * (0.5 - chance);
        for (std::size_t i = 0; i < columns; ++i)
            slope[i] += rest * x[i];
    }
    return slope;
}

/// Fisher's step over the columns that are not held.
std::vector<double> step_at(const Place& place, const std::vector<double>& slope,
                            const std::optional<HeldCoefficient>& held) {
    std::vector<std::size_t> open;
    for (std::size_t i = 0; i < slope.size(); ++i)
        if (!held || static_cast<std::size_t>(held->column) != i) open.push_back(i);
    std::vector<double> part, step(slope.size());
    for (const std::size_t i : open)
        for (const std::size_t j : open)
            part.push_back(place.information[i * slope.size() + j]);
    const auto inverse = inverse_of(part, static_cast<int>(open.size()));
    if (!inverse) return step;
    double longest = 0.0;
    for (std::size_t i = 0; i < open.size(); ++i) {
        for (std::size_t j = 0; j < open.size(); ++j)
            step[open[i]] += inverse->matrix[i * open.size() + j] * slope[open[j]];
        longest = std::max(longest, std::abs(step[open[i]]));
    }
    if (longest > 5.0)
        for (double& one : step)
            one *= 5.0 / longest;
    return step;
}

bool is_short(const std::vector<double>& step, const std::vector<double>& beta) {
    for (std::size_t i = 0; i < step.size(); ++i)
        if (std::abs(step[i]) > 1e-11 * (1.0 + std::abs(beta[i]))) return false;
    return true;
}

} // namespace

void LogisticData::add(const std::vector<double>& row, bool yes) {
    assert(static_cast<int>(row.size()) == columns);
    x.insert(x.end(), row.begin(), row.end());
    y.push_back(yes ? 1 : 0);
}

double LogisticFit::standard_error(int column) const {
    return std::sqrt(covariance[static_cast<std::size_t>(column) * (beta.size() + 1)]);
}

LogisticFit fit_logistic(const LogisticData& data, Penalty penalty, const std::vector<double>& start,
                         std::optional<HeldCoefficient> held) {
    std::vector<double> first = start;
    first.resize(static_cast<std::size_t>(data.columns));
    if (held) first[static_cast<std::size_t>(held->column)] = held->value;
    Place here = place_at(data, penalty, std::move(first));
    bool converged = false;
    for (int turn = 0; turn < 200 && here.is_possible() && !converged; ++turn) {
        std::vector<double> step = step_at(here, slope_at(data, penalty, here), held);
        converged = is_short(step, here.beta);
        bool moved = false;
        for (int halved = 0; halved < 25 && !moved; ++halved) {
            std::vector<double> beta = here.beta;
            for (std::size_t i = 0; i < beta.size(); ++i)
                beta[i] += step[i];
            Place next = place_at(data, penalty, std::move(beta));
            // Near the top the height no longer tells two places apart.
            if (next.is_possible() && next.height >= here.height - 1e-11 * std::abs(here.height)) {
                here = std::move(next);
                moved = true;
            }
            for (double& one : step)
                one *= 0.5;
        }
        if (!moved) break;
    }
    for (const double beta : here.beta)
        converged = converged && std::isfinite(beta);
    return {here.beta, here.inverse ? here.inverse->matrix : std::vector<double>(here.information.size()),
            here.height, converged && here.is_possible()};
}

Interval profile_interval(const LogisticData& data, const LogisticFit& fit, Penalty penalty, int column) {
    const double top = fit.beta[static_cast<std::size_t>(column)];
    const double fall = 0.5 * normal_975 * normal_975;
    std::vector<double> start = fit.beta;
    const auto above = [&](double value) {
        const LogisticFit held = fit_logistic(data, penalty, start, HeldCoefficient{column, value});
        return held.log_likelihood - fit.log_likelihood + fall;
    };
    const auto end = [&](double direction) {
        double inside = top, inside_height = fall, width = 2.0 * std::max(fit.standard_error(column), 1e-6);
        double outside = top + direction * width, outside_height = above(outside);
        for (int tries = 0; outside_height > 0.0 && tries < 40; ++tries) {
            inside = outside;
            inside_height = outside_height;
            width *= 2.0;
            outside = top + direction * width;
            outside_height = above(outside);
        }
        if (outside_height > 0.0) return outside;
        // The height falls like a parabola, so its root is nearly straight: false position, halved against standstill.
        for (int tries = 0; tries < 60 && std::abs(outside - inside) > 1e-10 * (1.0 + std::abs(top));
             ++tries) {
            const double share = inside_height / (inside_height - outside_height);
            const double middle = inside + (outside - inside) * (tries % 3 == 2 ? 0.5 : share);
            const double height = above(middle);
            if (std::abs(height) < 1e-12) return middle;
            (height > 0.0 ? inside : outside) = middle;
            (height > 0.0 ? inside_height : outside_height) = height;
        }
        return inside + (outside - inside) * inside_height / (inside_height - outside_height);
    };
    return {end(-1.0), end(1.0)};
}

LogisticFit with_refitted_constant(const LogisticData& data, LogisticFit fit) {
    LogisticData constant{1, {}, {}, {}};
    std::vector<double> without = fit.beta;
    without[0] = 0.0;
    for (int row = 0; row < data.rows(); ++row) {
        constant.add({1.0}, data.y[static_cast<std::size_t>(row)] != 0);
        constant.offset.push_back(log_odds(data, without, row));
    }
    const LogisticFit refitted = fit_logistic(constant, Penalty::none, {fit.beta[0]});
    if (refitted.converged) fit.beta[0] = refitted.beta[0];
    return fit;
}

Chance chance_at(const LogisticFit& fit, const std::vector<double>& row) {
    const double odds = std::inner_product(fit.beta.begin(), fit.beta.end(), row.begin(), 0.0);
    const double half = normal_975 * std::sqrt(squared(row.data(), fit.covariance, row.size()));
    return {chance_of(odds), {chance_of(odds - half), chance_of(odds + half)}};
}

} // namespace ropeline
