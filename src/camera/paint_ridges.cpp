#include "camera/paint_ridges.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {
namespace {

constexpr double ridge_darkness = 9.0;
constexpr double farthest_px = 24.0; // beyond, a ridge tells nothing
constexpr double least_on_paint = 0.85, most_rms_px = 2.2;
constexpr int fewest_on_paint = 40;

/// Brightness that a quarter of the picture exceeds: the ice, where there is
/// any to speak of.
double ice_level(const cv::Mat& grey) {
    std::array<int, 256> counts{};
    for (int y = 0; y < grey.rows; y += 4) {
        const std::uint8_t* row = grey.ptr(y);
        for (int x = 0; x < grey.cols; x += 4)
            ++counts[row[x]];
    }
    int above = 0, all = 0;
    for (const int count : counts)
        all += count;
    int level = 255;
    while (level > 0 && above * 4 < all)
        above += counts[static_cast<std::size_t>(level--)];
    return level;
}

/// Places of the samples in sight, few enough to be quick.
std::vector<const PaintSample*> in_sight(const TurningCamera& camera, const std::vector<PaintSample>& samples,
                                         double margin_px, std::size_t most) {
    std::vector<const PaintSample*> seen;
    for (const PaintSample& sample : samples) {
        Eigen::Vector2d at;
        if (project(camera, sample.at, at) && at.x() > -margin_px && at.y() > -margin_px &&
            at.x() < camera.image.width_px + margin_px && at.y() < camera.image.height_px + margin_px)
            seen.push_back(&sample);
    }
    if (seen.size() <= most) return seen;
    std::vector<const PaintSample*> few;
    for (std::size_t i = 0; i < most; ++i)
        few.push_back(seen[i * seen.size() / most]);
    return few;
}

/// Mean distance from paint, each at most `farthest_px`; what leaves the
/// picture counts as half of that.
double cost_of(const TurningCamera& camera, const std::vector<const PaintSample*>& samples,
               const RidgeMap& ridges) {
    double sum = 0.0;
    for (const PaintSample* sample : samples) {
        Eigen::Vector2d at;
        if (!project(camera, sample->at, at)) {
            sum += farthest_px;
            continue;
        }
        const int x = static_cast<int>(std::floor(at.x() * ridges.scale)),
                  y = static_cast<int>(std::floor(at.y() * ridges.scale));
        const bool inside = x >= 0 && y >= 0 && x < ridges.away_px.cols && y < ridges.away_px.rows;
        sum += inside ? std::min(farthest_px, static_cast<double>(ridges.away_px(y, x))) : 0.5 * farthest_px;
    }
    return sum / static_cast<double>(std::max<std::size_t>(1, samples.size()));
}

/// Turned about the upright through the camera, tilted about its right axis,
/// and zoomed.
TurningCamera turned(const TurningCamera& camera, double across_px, double down_px, double zoom) {
    const Eigen::Vector3d up = camera.camera_from_world.col(2);
    CameraStep pan = CameraStep::Zero(), tilt = CameraStep::Zero();
    pan.head<3>() = up * (across_px / camera.focal_px);
    tilt(0) = -down_px / camera.focal_px;
    tilt(3) = zoom;
    return moved(moved(camera, pan), tilt);
}

struct Candidate {
    TurningCamera camera;
    double cost = 0.0;
};

/// Best of a grid of turns and zooms, no two of them close.
std::vector<Candidate> from_grid(const TurningCamera& guess, const std::vector<PaintSample>& samples,
                                 const RidgeMap& ridges, const WideReach& reach) {
    const auto used = in_sight(guess, samples, 0.6 * reach.turn_px, 110);
    constexpr double step_px = 14.0, zoom_step = 0.04;
    const int turns = static_cast<int>(std::ceil(reach.turn_px / step_px)), tilts = (turns + 1) / 2;
    const int zooms = static_cast<int>(std::lround(reach.zoom / zoom_step));
    std::vector<Candidate> all;
    for (int zoom = -zooms; zoom <= zooms; ++zoom) {
        for (int tilt = -tilts; tilt <= tilts; ++tilt) {
            for (int turn = -turns; turn <= turns; ++turn) {
                const TurningCamera camera = turned(guess, turn * step_px, tilt * step_px, zoom * zoom_step);
                all.push_back({camera, cost_of(camera, used, ridges)});
            }
        }
    }
    const std::size_t most = std::min<std::size_t>(all.size(), 6);
    std::ranges::partial_sort(all, all.begin() + static_cast<std::ptrdiff_t>(most), {}, &Candidate::cost);
    all.resize(most);
    return all;
}

/// Downhill along each of turn, zoom and place in turn, in steps that shrink.
Candidate settled(Candidate at, const std::vector<PaintSample>& samples, const RidgeMap& ridges,
                  double place_m) {
    const auto used = in_sight(at.camera, samples, 0.0, 160);
    at.cost = cost_of(at.camera, used, ridges);
    double step_px = 8.0;
    for (int round = 0; round < 24 && step_px > 0.4; ++round) {
        bool better = false;
        for (int number = 0; number < 7; ++number) {
            for (const double way : {1.0, -1.0}) {
                CameraStep step = CameraStep::Zero();
                step(number) = way * (number < 3    ? step_px / at.camera.focal_px * (number == 2 ? 2.0 : 1.0)
                                      : number == 3 ? step_px / (0.4 * at.camera.image.width_px)
                                                    : place_m * step_px / 8.0);
                const TurningCamera tried = moved(at.camera, step);
                const double cost = cost_of(tried, used, ridges);
                if (cost >= at.cost) continue;
                at = {tried, cost};
                better = true;
                break;
            }
        }
        if (!better) step_px *= 0.5;
    }
    return at;
}

} // namespace

RidgeMap ridge_map(const cv::Mat& grey) {
    RidgeMap map;
    cv::Mat half, closed, ridge, dense;
    cv::resize(grey, half, {}, map.scale, map.scale, cv::INTER_AREA);
    const double level = ice_level(half);
    static const cv::Mat element = cv::getStructuringElement(cv::MORPH_ELLIPSE, {9, 9});
    cv::morphologyEx(half, closed, cv::MORPH_CLOSE, element);
    ridge = ((closed - half) > ridge_darkness) & (closed > 0.75 * level);
    // Paint is thin and alone; what fills a place is a crowd, letters or a
    // player.
    cv::boxFilter(ridge, dense, CV_8U, {31, 31});
    ridge.setTo(0, dense > 90);
    cv::distanceTransform(~ridge, map.away_px, cv::DIST_L2, 3);
    map.away_px /= map.scale;
    return map;
}

std::optional<PaintUpdate> search_wide(const CameraBelief& guess, const std::vector<PaintSample>& samples,
                                       const RidgeMap& ridges, const PictureView& picture,
                                       const WideReach& reach) {
    std::vector<Candidate> candidates = from_grid(guess.camera, samples, ridges, reach);
    for (Candidate& candidate : candidates)
        candidate = settled(candidate, samples, ridges, reach.place_m);
    const auto best = std::ranges::min_element(candidates, {}, &Candidate::cost);
    if (best == candidates.end() || best->cost > 0.35 * farthest_px) return std::nullopt;
    CameraBelief loose{best->camera, guess.spread};
    const double turn = 6.0 / guess.camera.focal_px;
    loose.spread.diagonal().head<3>().array() += turn * turn;
    loose.spread(3, 3) += 0.01 * 0.01;
    loose.spread.diagonal().segment<3>(4).array() += reach.place_m * reach.place_m;
    const PaintUpdate found = update_by_paint(loose, samples, picture, 6.0);
    const bool on_paint = found.agreed >= fewest_on_paint && found.agreed >= least_on_paint * found.expected;
    if (!on_paint || found.rms_px > most_rms_px) return std::nullopt;
    return found;
}

} // namespace ropeline
