#include "camera/film_camera.h"

#include "camera/dense.h"
#include "camera/fit_residuals.h"
#include "camera/homography.h"
#include "camera/projection.h"
#include "camera/sight.h"
#include "camera/turning_camera.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace ropeline {
namespace {

constexpr double paint_off_m = 0.03;   // measured: paint of one broadcast rink against the rule book
constexpr double least_place_m = 0.05; // no fit knows its camera's place better
constexpr double least_lens = 0.002;
constexpr double level_within = 0.1; // sine of the roll, one sigma: common practice, no source
constexpr double unseen_px = 1e4;
constexpr double most_apart_m =
    0.3; // two views that see the clicks equally well and yet differ by more: neither

using Vector4 = Eigen::Vector4d;
using Matrix4 = Eigen::Matrix4d;

Vector4 place_and_lens_of(const TurningCamera& camera) {
    return {camera.place_m.x(), camera.place_m.y(), camera.place_m.z(), camera.radial};
}
Vector4 known_of(const FilmCamera& camera) {
    return Eigen::Map<const Vector4>(camera.place_and_lens.data());
}
Matrix4 spread_of(const FilmCamera& camera) {
    return Eigen::Map<const Matrix4>(camera.spread.data());
}
void tell(FilmCamera& camera, const Vector4& known, const Matrix4& spread) {
    Eigen::Map<Vector4>(camera.place_and_lens.data()) = known;
    Eigen::Map<Matrix4>(camera.spread.data()) = spread;
}

/// Axes of a camera at `place` with a level picture that has `at` at the pixel.
Eigen::Matrix3d turned_to(const Eigen::Vector3d& place, const Eigen::Vector2d& at,
                          const Eigen::Vector3d& ray) {
    const Eigen::Vector3d ahead = (Eigen::Vector3d{at.x(), at.y(), 0.0} - place).normalized();
    return Eigen::Quaterniond::FromTwoVectors(Eigen::Vector3d::UnitZ(), ray).toRotationMatrix() *
           level_axes(ahead);
}

/// Sigma of each click: the hand's own, and what the paint's misfit looks like from there.
std::vector<double> sigmas_of(const RinkClicks& clicks, const TurningCamera& camera, double click_sigma_px) {
    std::vector<double> sigmas;
    const auto add = [&](IcePoint at) {
        const double away_m = (Eigen::Vector3d{at.x_m, at.y_m, 0.0} - camera.place_m).norm();
        sigmas.push_back(std::hypot(click_sigma_px, paint_off_m * camera.focal_px / std::max(away_m, 1.0)));
    };
    for (const LandmarkClick& click : clicks.points)
        add(click.point);
    const RinkFit fit = ropeline::fit_of(CameraBelief{camera, CameraSpread::Zero()});
    for (const CurveClick& click : clicks.curves)
        add(ice_at(fit, click.at).value_or(IcePoint{0.0, 10.0}));
    return sigmas;
}

/// Residuals of clicks in sigmas, of a picture that is not level, and of place and lens in theirs.
class ClickFunction {
public:
    ClickFunction(const RinkClicks& clicks, const FilmCamera& known, std::vector<double> sigmas)
        : clicks_(clicks), known_(known_of(known)), sigmas_(std::move(sigmas)),
          whitened_(whitening(spread_of(known))) {}

    Eigen::Index rows() const {
        return static_cast<Eigen::Index>(2 * clicks_.points.size() + clicks_.curves.size() + 5);
    }
    Eigen::VectorXd operator()(const TurningCamera& camera) const {
        Eigen::VectorXd off(rows());
        Eigen::Index row = 0;
        std::size_t next = 0;
        for (const LandmarkClick& click : clicks_.points) {
            Eigen::Vector2d pixel = Eigen::Vector2d::Constant(unseen_px);
            project(camera, {click.point.x_m, click.point.y_m}, pixel);
            off.segment<2>(row) = (Eigen::Vector2d{click.at.x_px, click.at.y_px} - pixel) / sigmas_[next++];
            row += 2;
        }
        const RowMatrix3 matrix = image_from_ice_of(camera);
        for (const CurveClick& click : clicks_.curves) {
            const CurveTerm term{{click.at.x_px, click.at.y_px}, &click.curve};
            Eigen::Vector2d offset;
            double distance_px = unseen_px;
            if (!across_curve(matrix, lens_of(camera.image), camera.radial, term, offset, distance_px))
                distance_px = unseen_px;
            off(row++) = distance_px / sigmas_[next++];
        }
        off(row) = camera.camera_from_world(0, 2) / level_within;
        off.tail<4>() = whitened_ * (place_and_lens_of(camera) - known_);
        return off;
    }

private:
    const RinkClicks& clicks_;
    Vector4 known_;
    std::vector<double> sigmas_;
    Matrix4 whitened_;
};

struct Solved {
    CameraBelief belief;
    double cost = std::numeric_limits<double>::infinity(); ///< squared sigmas
};

Eigen::MatrixXd slopes_of(const ClickFunction& function, const TurningCamera& camera) {
    Eigen::MatrixXd slopes(function.rows(), 8);
    for (int k = 0; k < 8; ++k) {
        const CameraStep step = CameraStep::Unit(k) * 1e-6;
        slopes.col(k) = (function(moved(camera, step)) - function(moved(camera, -step))) / 2e-6;
    }
    return slopes;
}

Solved solved_from(const ClickFunction& function, TurningCamera camera) {
    Eigen::VectorXd off = function(camera);
    double damping = 1e-3;
    for (int turn = 0; turn < 60 && damping < 1e9; ++turn) {
        const Eigen::MatrixXd slopes = slopes_of(function, camera);
        CameraSpread information = product(slopes.transpose(), slopes);
        information.diagonal() *= 1.0 + damping;
        const CameraStep step = ropeline::solved(information, -product(slopes.transpose(), off));
        const TurningCamera tried = moved(camera, step);
        const Eigen::VectorXd now = function(tried);
        if (now.allFinite() && now.squaredNorm() < off.squaredNorm()) {
            const double gained = off.squaredNorm() - now.squaredNorm();
            camera = tried, off = now, damping = std::max(damping / 8.0, 1e-9);
            if (gained < 1e-9) break;
        } else {
            damping *= 8.0;
        }
    }
    Solved result{{camera, CameraSpread::Zero()}, off.squaredNorm()};
    const Eigen::MatrixXd slopes = slopes_of(function, camera);
    if (slopes.allFinite()) result.belief.spread = inverse_of(product(slopes.transpose(), slopes));
    return result;
}

/// Where the camera may look: as in its other fits, and with the middle of the clicked points where they were clicked,
/// at any zoom.
std::vector<TurningCamera> starts_of(const RinkClicks& clicks, ImageSize image, const FilmCamera& known) {
    Eigen::Vector2d ice = Eigen::Vector2d::Zero(), pixel = Eigen::Vector2d::Zero();
    for (const LandmarkClick& click : clicks.points) {
        ice += Eigen::Vector2d{click.point.x_m, click.point.y_m} / static_cast<double>(clicks.points.size());
        pixel += Eigen::Vector2d{click.at.x_px, click.at.y_px} / static_cast<double>(clicks.points.size());
    }
    std::vector<TurningCamera> starts;
    TurningCamera start;
    start.image = image;
    start.place_m = known_of(known).head<3>();
    start.radial = known.place_and_lens[3];
    const Lens lens = lens_of(image);
    const Eigen::Vector2d off = straightened(lens, start.radial, pixel) - lens.middle_px;
    for (double focal = 0.7; focal < 16.0; focal *= 1.5) {
        start.focal_px = focal * lens.half_diagonal_px;
        const Eigen::Vector3d ray = Eigen::Vector3d{off.x(), off.y(), start.focal_px}.normalized();
        start.camera_from_world = turned_to(start.place_m, ice, ray);
        starts.push_back(start);
    }
    return starts;
}

double apart_m(const RinkFit& fit, const RinkFit& other) {
    double most = 0.0;
    for (const ImagePoint at : places_that_matter(fit)) {
        const auto here = ice_at(fit, at), there = ice_at(other, at);
        most = std::max(most, here && there ? distance(*here, *there) : 0.0);
    }
    return most;
}

/// The value that one of a thousand exceeds.
double most_cost(double freedom) {
    constexpr double normal = 3.0902;
    const double share = 2.0 / (9.0 * freedom);
    return freedom * std::pow(1.0 - share + normal * std::sqrt(share), 3);
}

std::size_t numbers_in(const RinkClicks& clicks) {
    return 2 * clicks.points.size() + clicks.curves.size();
}

/// With the sigmas of where it begins, then once more with those of where it was found: were they to follow the camera, a
/// longer and longer lens would excuse everything.
Solved solved_twice(const RinkClicks& clicks, const FilmCamera& known, double click_sigma_px,
                    const TurningCamera& start) {
    Solved once = solved_from(ClickFunction(clicks, known, sigmas_of(clicks, start, click_sigma_px)), start);
    const TurningCamera& there = once.belief.camera;
    return solved_from(ClickFunction(clicks, known, sigmas_of(clicks, there, click_sigma_px)), there);
}

/// Place, lens and roll are observed as often as they are free: what is left over is the clicks' less three.
bool sees(const Solved& solved, const RinkClicks& clicks) {
    return solved.belief.spread.allFinite() &&
           solved.cost < most_cost(static_cast<double>(numbers_in(clicks)) - 3.0);
}

/// Nothing known but that a fit has it about here, and how film cameras' lenses are.
FilmCamera hardly_known(const TurningCamera& camera) {
    constexpr double about_m = 10.0, lens_about = 0.05;
    FilmCamera known;
    Vector4 at = place_and_lens_of(camera);
    at(3) = 0.0;
    Matrix4 spread = Matrix4::Identity() * (about_m * about_m);
    spread(3, 3) = lens_about * lens_about;
    tell(known, at, spread);
    return known;
}

void learn(FilmCamera& camera, const CameraBelief& belief, const RinkFit& fit) {
    Matrix4 spread = belief.spread.bottomRightCorner<4, 4>();
    spread.diagonal().head<3>().array() += least_place_m * least_place_m;
    spread(3, 3) += least_lens * least_lens;
    tell(camera, place_and_lens_of(belief.camera), spread);
    camera.views.push_back(fit);
}

} // namespace

std::vector<FilmCamera> film_cameras(std::span<const ClickedView> views) {
    constexpr double click_sigma_px = 1.0;
    std::vector<FilmCamera> cameras;
    for (const ClickedView& view : views) {
        const std::optional<CameraBelief> belief = turning_camera_of(view.fit, 8.0);
        if (!belief || numbers_in(view.clicks) < 6) continue;
        bool known = false;
        for (FilmCamera& camera : cameras) {
            const Solved solved = solved_twice(view.clicks, camera, click_sigma_px, belief->camera);
            known = sees(solved, view.clicks);
            if (!known) continue;
            learn(camera, solved.belief, view.fit);
            break;
        }
        if (known) continue;
        const FilmCamera about = hardly_known(belief->camera);
        const Solved solved = solved_twice(view.clicks, about, click_sigma_px, belief->camera);
        if (solved.belief.spread.allFinite()) learn(cameras.emplace_back(), solved.belief, view.fit);
    }
    std::ranges::stable_sort(cameras, std::ranges::greater{},
                             [](const FilmCamera& camera) { return camera.views.size(); });
    return cameras;
}

std::optional<RinkFit> fit_of_film_camera(const RinkClicks& clicks, ImageSize image, const FilmCamera& camera,
                                          double click_sigma_px) {
    if (numbers_in(clicks) < 6 || clicks.points.empty()) return std::nullopt;
    std::vector<TurningCamera> starts = starts_of(clicks, image, camera);
    constexpr std::size_t most_views = 4; // the grid finds the rest
    for (const RinkFit& view : std::span{camera.views}.first(std::min(most_views, camera.views.size()))) {
        const auto belief = view.image == image ? turning_camera_of(view, 8.0) : std::nullopt;
        if (belief) starts.push_back(belief->camera);
    }
    std::vector<Solved> found;
    for (const TurningCamera& start : starts)
        found.push_back(solved_twice(clicks, camera, click_sigma_px, start));
    const auto best = std::ranges::min_element(found, {}, &Solved::cost);
    if (!sees(*best, clicks)) return std::nullopt;
    RinkFit fit = fit_of(best->belief);
    constexpr double nearly = 9.0; // squared sigmas
    for (const Solved& other : found) {
        if (other.cost < best->cost + nearly && apart_m(fit, fit_of(other.belief)) > most_apart_m)
            return std::nullopt;
    }
    fit.click_sigma_px = click_sigma_px;
    tell_residuals(clicks, fit);
    double squared = 0.0;
    for (const auto* off : {&fit.residuals, &fit.curve_residuals})
        for (const ImagePoint one : *off)
            squared += one.x_px * one.x_px + one.y_px * one.y_px;
    fit.rms_px = std::sqrt(squared / static_cast<double>(numbers_in(clicks)));
    return fit;
}

} // namespace ropeline
