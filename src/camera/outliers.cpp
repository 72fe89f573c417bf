#include "camera/outliers.h"

#include "camera/click_checks.h"
#include "camera/homography.h"
#include "camera/projection.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace ropeline {
namespace {

constexpr std::size_t fewest_to_leave_one_out = 8; // seven must remain before one is overruled without asking
constexpr std::size_t fewest_to_name_one = 6;      // five must remain: four agree with anything
constexpr double stray_sigmas = 5.0;               // beyond what the others' own error allows
constexpr double hopeless_sigmas = 5.0; // rms per axis, in click sigmas, of clicks that show no one rink

std::vector<PointPair> pairs_of(std::span<const LandmarkClick> clicks, const std::vector<std::size_t>& used) {
    std::vector<PointPair> pairs;
    for (const std::size_t i : used) {
        pairs.push_back({{clicks[i].at.x_px, clicks[i].at.y_px}, {clicks[i].point.x_m, clicks[i].point.y_m}});
    }
    return pairs;
}

double noise_px(const SolvedFit& fit) {
    return fit.freedom > 0 ? std::sqrt(fit.squared_error / fit.freedom) : 0.0;
}

struct Miss {
    double off_px = std::numeric_limits<double>::infinity();
    double sigmas = std::numeric_limits<double>::infinity();
};

/// How far a click lies from where a fit of others puts it, in pixels and in what that prediction's own error
/// allows.
Miss miss_of(const LandmarkClick& click, const SolvedFit& fit, ImageSize image, double sigma_px) {
    const RowMatrix3<double> matrix = fit.image_from_ice;
    const Eigen::Vector2d ice{click.point.x_m, click.point.y_m};
    Eigen::Vector2d predicted;
    if (!project<double>(matrix, lens_of(image), fit.radial, ice, predicted)) return {};
    const Eigen::Vector2d off = Eigen::Vector2d{click.at.x_px, click.at.y_px} - predicted;
    const Eigen::Vector3d seen = matrix * ice.homogeneous();
    Eigen::Matrix<double, 2, 9> slope = Eigen::Matrix<double, 2, 9>::Zero();
    slope.block<1, 3>(0, 0) = slope.block<1, 3>(1, 3) = ice.homogeneous().transpose() / seen.z();
    slope.rightCols<3>() = -seen.hnormalized() * ice.homogeneous().transpose() / seen.z();
    const double noise = std::max(sigma_px, noise_px(fit));
    const Eigen::Matrix2d spread =
        noise * noise *
        (Eigen::Matrix2d::Identity() + slope * fit.unit_covariance.topLeftCorner<9, 9>() * slope.transpose());
    return {off.norm(), std::sqrt(off.dot(spread.inverse() * off))};
}

struct Search {
    std::span<const LandmarkClick> clicks;
    ImageSize image;
    double sigma_px;

    std::optional<SolvedFit> solve(const std::vector<std::size_t>& used) const {
        return solve_fit(pairs_of(clicks, used), image);
    }

    bool plausible(const SolvedFit& fit) const {
        if (fit.freedom <= 0) return true;
        const auto gross = [&](const Eigen::Vector2d& residual) {
            return residual.norm() > gross_sigmas * sigma_px;
        };
        return noise_px(fit) <= 3.0 * sigma_px && std::ranges::none_of(fit.residuals, gross);
    }

    /// Takes out the click whose absence helps most, up to `most` times, until what remains is plausible.
    std::optional<AgreedFit> without_strays(std::vector<std::size_t> used, std::size_t most) const {
        std::vector<std::size_t> out;
        while (out.size() < most) {
            std::optional<SolvedFit> best;
            std::size_t best_place = 0, agreeing = 0;
            for (std::size_t place = 0; place < used.size(); ++place) {
                std::vector<std::size_t> rest = used;
                rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(place));
                const std::optional<SolvedFit> fit = solve(rest);
                if (fit && plausible(*fit)) ++agreeing;
                if (fit && (!best || fit->squared_error < best->squared_error)) {
                    best = fit;
                    best_place = place;
                }
            }
            if (!best || agreeing > 1)
                return std::nullopt; // nothing helps, or more than one click could be the culprit
            out.push_back(used[best_place]);
            used.erase(used.begin() + static_cast<std::ptrdiff_t>(best_place));
            if (!plausible(*best)) continue;
            AgreedFit agreed{*best, {}};
            for (const std::size_t i : out) {
                const Miss miss = miss_of(clicks[i], *best, image, sigma_px);
                if (miss.sigmas < stray_sigmas) return std::nullopt;
                agreed.left_out.push_back({i, miss.off_px, used.size()});
            }
            return agreed;
        }
        return std::nullopt;
    }

    /// Two clicks that would agree with the rest if their landmarks changed places.
    std::optional<std::pair<std::size_t, std::size_t>>
    swapped_pair(const std::vector<std::size_t>& used) const {
        if (used.size() < 5) return std::nullopt;
        for (std::size_t i = 0; i < used.size(); ++i) {
            for (std::size_t j = i + 1; j < used.size(); ++j) {
                std::vector<PointPair> pairs = pairs_of(clicks, used);
                std::swap(pairs[i].ice, pairs[j].ice);
                const std::optional<SolvedFit> fit = solve_fit(pairs, image);
                if (fit && plausible(*fit) && fit->image_from_ice.determinant() < 0.0) return std::pair{i, j};
            }
        }
        return std::nullopt;
    }
};

[[noreturn]] void throw_disagreement(const Search& search, const std::optional<SolvedFit>& fit) {
    const std::size_t count = search.clicks.size();
    if (!fit) {
        throw FitError(
            FitFault::not_invertible,
            fmt::format(
                "no camera above the ice sees the {} landmarks where they are clicked; at least one click is "
                "on the wrong landmark: check them one by one",
                count_word(count)));
    }
    const auto worst =
        std::ranges::max_element(fit->residuals, {}, [](const Eigen::Vector2d& r) { return r.norm(); });
    const std::string& worst_name =
        name_of(search.clicks[static_cast<std::size_t>(worst - fit->residuals.begin())]);
    if (count < fewest_to_name_one) {
        throw FitError(
            FitFault::outlier,
            fmt::format(
                "the {} clicks contradict each other by {:.0f} px and are too few to tell which is wrong; "
                "check them, or click one or two more landmarks",
                count_word(count), worst->norm()));
    }
    throw FitError(FitFault::outlier,
                   fmt::format("the {} clicks contradict each other, the worst, {}, by {:.0f} px; check that "
                               "each click is on the landmark it names and that the rule book is right",
                               count_word(count), worst_name, worst->norm()));
}

} // namespace

AgreedFit fit_what_agrees(std::span<const LandmarkClick> clicks, ImageSize image, double click_sigma_px) {
    const Search search{clicks, image, click_sigma_px};
    std::vector<std::size_t> all(clicks.size());
    for (std::size_t i = 0; i < all.size(); ++i)
        all[i] = i;
    const std::optional<SolvedFit> whole = search.solve(all);
    if (whole && search.plausible(*whole)) return {*whole, {}};

    if (const auto pair = search.swapped_pair(all)) {
        throw FitError(FitFault::mirrored,
                       fmt::format("{} and {} look swapped; give each click the landmark it shows",
                                   name_of(clicks[pair->first]), name_of(clicks[pair->second])));
    }
    if (clicks.size() >= fewest_to_name_one) {
        const bool may_leave_out = clicks.size() >= fewest_to_leave_one_out;
        const std::size_t most = may_leave_out ? (clicks.size() - 6) / 2 : 1;
        if (const std::optional<AgreedFit> agreed = search.without_strays(all, most)) {
            if (may_leave_out) return *agreed;
            const LeftOut& stray = agreed->left_out.front();
            throw FitError(
                FitFault::outlier,
                fmt::format("{} is {:.0f} px from where the other {} put it; move that click, or click more "
                            "landmarks if it is right",
                            name_of(clicks[stray.click]), stray.off_px, count_word(stray.others)));
        }
    }
    if (whole && noise_px(*whole) <= hopeless_sigmas * click_sigma_px) return {*whole, {}};
    throw_disagreement(search, whole);
}

} // namespace ropeline
