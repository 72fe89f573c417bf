#include "camera/outliers.h"

#include "camera/click_checks.h"
#include "camera/fit_residuals.h"
#include "camera/paint_off.h"
#include "camera/square_pixels.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace ropeline {
namespace {

constexpr double gross_sigmas = 8.0;               // a residual beyond this is a wrong landmark or a slip
constexpr double most_noise_sigmas = 3.0;          // rms per axis of a plausible fit
constexpr double stray_sigmas = 5.0;               // beyond what the others' own error allows
constexpr double hopeless_sigmas = 5.0;            // rms per axis of clicks that show no one rink
constexpr std::size_t fewest_to_leave_one_out = 8; // seven must remain before one is overruled without asking
constexpr std::size_t fewest_to_name_one = 6;      // five must remain: four agree with anything

using Chosen = std::vector<std::size_t>; // counted through the points, then through the curves

double noise_px(const SolvedFit& fit) {
    return fit.freedom > 0 ? std::sqrt(fit.squared_error / fit.freedom) : 0.0;
}

/// What the prior of square pixels counts against a fit, squared pixels.
double off_square(const SolvedFit& fit, ImageSize image, const CameraPrior& prior) {
    return (prior.square_px * squareness(fit.image_from_ice, lens_of(image))).squaredNorm();
}

struct Search {
    const RinkClicks& clicks;
    ImageSize image;
    double sigma_px;
    bool with_radial;

    std::size_t count() const { return clicks.points.size() + clicks.curves.size(); }
    bool is_point(std::size_t click) const { return click < clicks.points.size(); }
    const CurveClick& curve(std::size_t click) const { return clicks.curves[click - clicks.points.size()]; }
    std::string name(std::size_t click) const {
        return is_point(click) ? name_of(clicks.points[click]) : name_of(curve(click));
    }
    PointTerm point_term(std::size_t click) const {
        const LandmarkClick& point = clicks.points[click];
        return {{point.at.x_px, point.at.y_px}, {point.point.x_m, point.point.y_m}, point.at_boards};
    }
    CurveTerm curve_term(std::size_t click) const {
        return {{curve(click).at.x_px, curve(click).at.y_px}, &curve(click).curve};
    }

    FitTerms terms(const Chosen& chosen) const {
        FitTerms terms;
        for (const std::size_t click : chosen) {
            if (is_point(click)) {
                terms.points.push_back(point_term(click));
            } else {
                terms.curves.push_back(curve_term(click));
            }
        }
        return terms;
    }

    Chosen all_but(const std::vector<LeftOut>& left_out) const {
        Chosen chosen;
        for (std::size_t click = 0; click < count(); ++click) {
            if (std::ranges::find(left_out, click, &LeftOut::click) == left_out.end())
                chosen.push_back(click);
        }
        return chosen;
    }

    /// How far a click lies from where a fit of others puts it: in pixels, and in what that prediction
    /// allows.
    std::pair<double, double> miss(std::size_t click, const SolvedFit& fit) const {
        constexpr double nowhere = std::numeric_limits<double>::infinity();
        const RowMatrix3 matrix = fit.image_from_ice;
        const double noise = std::max(sigma_px, noise_px(fit));
        if (!is_point(click)) {
            Eigen::Vector2d offset;
            double distance_px = 0.0;
            if (!across_curve(matrix, lens_of(image), fit.radial, curve_term(click), offset, distance_px)) {
                return {nowhere, nowhere};
            }
            return {offset.norm(), offset.norm() / noise};
        }
        const PointTerm term = point_term(click);
        Eigen::Vector2d predicted;
        if (!project(matrix, lens_of(image), fit.radial, term.ice, predicted)) return {nowhere, nowhere};
        const Eigen::Vector2d off = term.pixel - predicted;
        const Eigen::Matrix<double, 2, 9> slope = straight_by_numbers(matrix, term.ice);
        const Eigen::Matrix2d spread =
            noise * noise *
            (Eigen::Matrix2d::Identity() +
             slope * fit.unit_covariance.topLeftCorner<9, 9>() * slope.transpose());
        return {off.norm(), std::sqrt(off.dot(spread.inverse() * off))};
    }

    /// Takes out the click whose absence helps most, up to `most` times, until what remains is plausible.
    std::optional<AgreedFit> without_strays(Chosen chosen, std::size_t most) const {
        Chosen out;
        while (out.size() < most) {
            std::optional<SolvedFit> best;
            std::size_t best_place = 0, agreeing = 0;
            for (std::size_t place = 0; place < chosen.size(); ++place) {
                Chosen rest = chosen;
                rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(place));
                const std::optional<SolvedFit> fit = solve_fit(terms(rest), image, with_radial);
                if (fit && plausible(*fit, sigma_px)) ++agreeing;
                if (fit && (!best || fit->squared_error < best->squared_error)) {
                    best = fit;
                    best_place = place;
                }
            }
            // Nothing helps, or more than one click could be the culprit.
            if (!best || agreeing > 1) return std::nullopt;
            out.push_back(chosen[best_place]);
            chosen.erase(chosen.begin() + static_cast<std::ptrdiff_t>(best_place));
            if (!plausible(*best, sigma_px)) continue;
            AgreedFit agreed{*best, {}};
            for (const std::size_t click : out) {
                const auto [off_px, sigmas] = miss(click, *best);
                if (sigmas < stray_sigmas) return std::nullopt;
                agreed.left_out.push_back({click, off_px, chosen.size()});
            }
            return agreed;
        }
        return std::nullopt;
    }

    /// So far off by linear means that no fit makes it plausible; a look before the costly fit.
    bool hopeless(const FitTerms& terms) const {
        if (terms.points.size() < 5) return false;
        const std::optional<Eigen::Matrix3d> linear = linear_fit(terms);
        if (!linear) return true;
        double squared = 0.0;
        for (const PointTerm& term : terms.points)
            squared += (term.pixel - (*linear * term.ice.homogeneous()).hnormalized()).squaredNorm();
        const double rms_px = std::sqrt(squared / (2.0 * static_cast<double>(terms.points.size())));
        return rms_px > 10.0 * most_noise_sigmas * sigma_px;
    }

    /// Two points that would agree with the rest if their landmarks changed places.
    std::optional<std::pair<std::size_t, std::size_t>> swapped_pair(const FitTerms& whole) const {
        if (count() < 5) return std::nullopt;
        for (std::size_t i = 0; i < whole.points.size(); ++i) {
            for (std::size_t j = i + 1; j < whole.points.size(); ++j) {
                FitTerms swapped = whole;
                std::swap(swapped.points[i].ice, swapped.points[j].ice);
                if (!with_radial && hopeless(swapped)) continue;
                const std::optional<SolvedFit> fit = solve_fit(swapped, image, with_radial);
                if (fit && plausible(*fit, sigma_px) && fit->image_from_ice.determinant() < 0.0) {
                    return std::pair{i, j};
                }
            }
        }
        return std::nullopt;
    }
};

[[noreturn]] void throw_disagreement(const Search& search, const std::optional<SolvedFit>& fit) {
    const std::string count = count_word(search.count());
    if (!fit && !search.clicks.curves.empty()) {
        throw FitError(
            FitFault::not_invertible,
            fmt::format("the {} clicks do not fix one camera above the ice; click another landmark off the "
                        "lines already clicked, and check each click",
                        count));
    }
    if (!fit) {
        throw FitError(
            FitFault::not_invertible,
            fmt::format("no camera above the ice sees the {} landmarks where they are clicked; at least one "
                        "click is on the wrong landmark: check them one by one",
                        count));
    }
    std::vector<double> off;
    for (const Eigen::Vector2d& residual : fit->point_residuals)
        off.push_back(residual.norm());
    for (const Eigen::Vector2d& residual : fit->curve_residuals)
        off.push_back(residual.norm());
    const auto worst = std::ranges::max_element(off);
    if (search.count() < fewest_to_name_one) {
        throw FitError(
            FitFault::outlier,
            fmt::format("the {} clicks contradict each other by {:.0f} px and are too few to tell which is "
                        "wrong; check them, or click one or two more landmarks",
                        count, *worst));
    }
    throw FitError(
        FitFault::outlier,
        fmt::format("the {} clicks contradict each other, the worst, {}, by {:.0f} px; check that each click "
                    "is on the landmark it names and that the rule book is right",
                    count, search.name(static_cast<std::size_t>(worst - off.begin())), *worst));
}

} // namespace

bool plausible(const SolvedFit& fit, double click_sigma_px) {
    if (fit.freedom <= 0) return true;
    const auto gross = [&](const Eigen::Vector2d& residual) {
        return residual.norm() > gross_sigmas * click_sigma_px;
    };
    return noise_px(fit) <= most_noise_sigmas * click_sigma_px &&
           std::ranges::none_of(fit.point_residuals, gross) &&
           std::ranges::none_of(fit.curve_residuals, gross);
}

bool radial_helps(const SolvedFit& plain, const SolvedFit& with_radial) {
    const double freedom = with_radial.freedom;
    if (freedom < 5.0) return false;
    // 0.1 % point of F(1, freedom): 10.83 for many, 21.0 for ten, 47.2 for five; this line lies on or above
    // them.
    const double least = 10.83 + 102.0 / freedom + 400.0 / (freedom * freedom);
    return (plain.squared_error - with_radial.squared_error) * freedom > least * with_radial.squared_error;
}

AgreedFit fit_of_any_plane(const RinkClicks& clicks, ImageSize image, const FitOptions& options) {
    const double sigma_px = options.click_sigma_px;
    const Search search{clicks, image, sigma_px, options.lens == LensChoice::radial};
    Chosen all(search.count());
    std::iota(all.begin(), all.end(), std::size_t{0});
    const FitTerms terms = search.terms(all);
    const std::optional<SolvedFit> whole = solve_fit(terms, image, search.with_radial);
    if (options.lens == LensChoice::automatic) {
        const std::optional<SolvedFit> bent = solve_fit(terms, image, true);
        if (bent && plausible(*bent, sigma_px) && (!whole || radial_helps(*whole, *bent))) return {*bent, {}};
    }
    if (whole && plausible(*whole, sigma_px)) return {*whole, {}};

    if (const auto pair = search.swapped_pair(terms)) {
        throw FitError(FitFault::mirrored,
                       fmt::format("{} and {} look swapped; give each click the landmark it shows",
                                   search.name(pair->first), search.name(pair->second)));
    }
    if (search.count() >= fewest_to_name_one) {
        const bool may_leave_out = search.count() >= fewest_to_leave_one_out;
        const std::size_t most = may_leave_out ? (search.count() - 6) / 2 : 1;
        if (const std::optional<AgreedFit> agreed = search.without_strays(all, most)) {
            if (may_leave_out) return *agreed;
            const LeftOut& stray = agreed->left_out.front();
            throw FitError(
                FitFault::outlier,
                fmt::format("{} is {:.0f} px from where the other {} put it; move that click, or click more "
                            "landmarks if it is right",
                            search.name(stray.click), stray.off_px, count_word(stray.others)));
        }
    }
    if (whole && noise_px(*whole) <= hopeless_sigmas * sigma_px) return {*whole, {}};
    throw_disagreement(search, whole);
}

namespace {

/// What is known of film cameras, for clicks with this noise.
CameraPrior film_camera(double sigma_px) {
    constexpr double square = 0.003, usual_radial = 0.03;
    return {sigma_px / square, sigma_px / usual_radial};
}

/// Sigma of a click with what painters add to it where the points lie; at most three times the click's own.
double painted_sigma_px(const SolvedFit& camera, const FitTerms& terms, double sigma_px) {
    constexpr double painters_m = 0.03, step_m = 0.25;
    std::vector<double> px_per_m;
    for (const PointTerm& term : terms.points) {
        const auto seen = [&](double x, double y) -> Eigen::Vector2d {
            return (camera.image_from_ice * Eigen::Vector3d{term.ice.x() + x, term.ice.y() + y, 1.0})
                .hnormalized();
        };
        const Eigen::Vector2d here = seen(0.0, 0.0);
        px_per_m.push_back(std::hypot((seen(step_m, 0.0) - here).norm(), (seen(0.0, step_m) - here).norm()) /
                           step_m);
    }
    if (px_per_m.empty()) return sigma_px;
    std::ranges::sort(px_per_m);
    return std::min(3.0 * sigma_px,
                    std::hypot(sigma_px, painters_m * px_per_m[px_per_m.size() / 2] / std::sqrt(2.0)));
}

/// The best camera that clicks show which no plane explains on the way from its first start.
std::optional<SolvedFit> camera_of_all(const RinkClicks& clicks, ImageSize image, const FitOptions& options) {
    const double sigma_px = options.click_sigma_px;
    const Search search{clicks, image, sigma_px, options.lens == LensChoice::radial};
    const FitTerms terms = search.terms(search.all_but({}));
    CameraPrior prior = film_camera(sigma_px);
    if (search.with_radial) prior.lens_px = 0.0;
    std::optional<SolvedFit> camera = solve_fit(terms, image, search.with_radial, prior);
    const auto right = [&] {
        return camera && plausible(*camera, painted_sigma_px(*camera, terms, sigma_px));
    };
    if (right()) return camera;
    if (options.lens == LensChoice::automatic) camera = solve_fit(terms, image, true, prior);
    return right() ? camera : std::nullopt;
}

/// What a fit of clicks was solved with, and by which it is solved again.
struct SolvedWith {
    CameraPrior prior;
    bool radial = false;
    bool lens_unsure = false; ///< taken to be straight for want of clicks that tell
};

/// Too few clicks to tell the lens leave it unsure, and with it the rest: as far as the fit with a lens is unsure, and as
/// far as it lies from the one without.
void tell_unsure_lens(SolvedFit& straight, const SolvedFit& bent, double sigma_px) {
    const RowMatrix3 here = straight.image_from_ice, there = bent.image_from_ice;
    Eigen::Matrix<double, 10, 1> apart;
    apart << Eigen::Map<const Eigen::Matrix<double, 9, 1>>(there.data()) -
                 Eigen::Map<const Eigen::Matrix<double, 9, 1>>(here.data()),
        bent.radial - straight.radial;
    straight.unit_covariance = bent.unit_covariance + apart * apart.transpose() / (sigma_px * sigma_px);
}

/// Solved again, each click as sure as hand and paint leave it.
SolvedFit weighed(const SolvedFit& found, FitTerms terms, ImageSize image, const FitOptions& options,
                  const SolvedWith& with) {
    SolvedFit fit = found;
    for (int round = 0; round < 2 && options.paint_off_m > 0.0; ++round) {
        terms = weighed_for_paint(std::move(terms), fit, image, options.paint_off_m, options.click_sigma_px);
        const auto again = solve_fit(terms, image, with.radial, with.prior, &fit);
        if (!again) return found;
        fit = *again;
    }
    fit.rival = found.rival;
    if (!with.lens_unsure) return fit;
    if (const auto bent = solve_fit(terms, image, true, with.prior, &fit))
        tell_unsure_lens(fit, *bent, options.click_sigma_px);
    return fit;
}

} // namespace

AgreedFit fit_what_agrees(const RinkClicks& clicks, ImageSize image, const FitOptions& options) {
    CameraPrior prior = film_camera(options.click_sigma_px);
    if (options.lens == LensChoice::radial) prior.lens_px = 0.0;
    AgreedFit any;
    try {
        any = fit_of_any_plane(clicks, image, options);
    } catch (const FitError&) {
        const auto camera = camera_of_all(clicks, image, options);
        if (!camera) throw;
        const Search all{clicks, image, options.click_sigma_px, camera->radial != 0.0};
        return {weighed(*camera, all.terms(all.all_but({})), image, options, {prior, all.with_radial}), {}};
    }
    const Search search{clicks, image, options.click_sigma_px, any.fit.radial != 0.0};
    const FitTerms used = search.terms(search.all_but(any.left_out));
    // Pictures of other cameras than those (cut out of larger ones, say) are fitted as any plane.
    const auto explains = [&](const std::optional<SolvedFit>& camera) {
        if (!camera) return false;
        const double noise =
            std::max(painted_sigma_px(*camera, used, options.click_sigma_px), noise_px(any.fit));
        constexpr double decisive = 25.0; // five sigmas, as a carried fit may be off a turning camera
        const double worse =
            camera->squared_error + off_square(*camera, image, prior) - any.fit.squared_error;
        return worse < decisive * noise * noise;
    };
    const auto camera = solve_fit(used, image, search.with_radial, prior);
    const bool by_lens = options.lens == LensChoice::automatic && !search.with_radial;
    const auto bent = by_lens ? solve_fit(used, image, true, prior) : std::nullopt;
    if (explains(camera)) {
        any.fit = weighed(*camera, used, image, options, {prior, search.with_radial, by_lens});
    } else if (explains(bent)) {
        any.fit = weighed(*bent, used, image, options, {prior, true});
    } else {
        any.fit = weighed(any.fit, used, image, options, {{}, search.with_radial});
    }
    return any;
}

} // namespace ropeline
