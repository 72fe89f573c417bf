#include "camera/paint_ridges.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {
namespace {

constexpr double ridge_darkness = 9.0;
constexpr double farthest_px = 24.0; // beyond, a ridge tells nothing
constexpr double hopeless = 0.75;    // share of that, of the best of the grid
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

/// From ice to the ridge map, in single precision: a search asks for hundreds of thousands of places.
struct MapView {
    std::array<float, 9> numbers{}; ///< row by row, to offsets from the middle of the map
    float bend = 0.0F, middle_x = 0.0F, middle_y = 0.0F;
};

MapView map_view(const TurningCamera& camera, const RidgeMap& ridges) {
    Eigen::Matrix3d axes;
    axes << camera.camera_from_world.leftCols<2>(), -camera.camera_from_world * camera.place_m;
    axes.topRows<2>() *= camera.focal_px * ridges.scale;
    const Lens lens = lens_of(camera.image);
    const double half_diagonal = lens.half_diagonal_px * ridges.scale;
    MapView view;
    for (int i = 0; i < 9; ++i)
        view.numbers[static_cast<std::size_t>(i)] = static_cast<float>(axes(i / 3, i % 3));
    view.bend = static_cast<float>(4.0 * camera.radial / (half_diagonal * half_diagonal));
    view.middle_x = static_cast<float>(lens.middle_px.x() * ridges.scale);
    view.middle_y = static_cast<float>(lens.middle_px.y() * ridges.scale);
    return view;
}

using IcePlaces = std::vector<Eigen::Vector2f>;

/// At most `most` of the places, spread evenly.
IcePlaces few_of(const IcePlaces& places, std::size_t most) {
    if (places.size() <= most) return places;
    IcePlaces few;
    for (std::size_t i = 0; i < most; ++i)
        few.push_back(places[i * places.size() / most]);
    return few;
}

/// Places of the samples in sight, few enough to be quick.
IcePlaces in_sight(const TurningCamera& camera, const std::vector<PaintSample>& samples, double margin_px,
                   std::size_t most) {
    IcePlaces seen;
    for (const PaintSample& sample : samples) {
        Eigen::Vector2d at;
        if (project(camera, sample.at, at) && at.x() > -margin_px && at.y() > -margin_px &&
            at.x() < camera.image.width_px + margin_px && at.y() < camera.image.height_px + margin_px)
            seen.emplace_back(sample.at.cast<float>());
    }
    return few_of(seen, most);
}

/// Mean distance from paint, each at most `farthest_px`; what leaves the
/// picture counts as half of that.
double cost_of(const TurningCamera& camera, const IcePlaces& places, const RidgeMap& ridges) {
    const MapView view = map_view(camera, ridges);
    const std::array<float, 9>& n = view.numbers;
    constexpr auto farthest = static_cast<float>(farthest_px);
    const auto right = static_cast<float>(ridges.away_px.cols),
               bottom = static_cast<float>(ridges.away_px.rows);
    float sum = 0.0F;
    for (const Eigen::Vector2f& place : places) {
        const float away = n[6] * place.x() + n[7] * place.y() + n[8];
        float x = (n[0] * place.x() + n[1] * place.y() + n[2]) / away,
              y = (n[3] * place.x() + n[4] * place.y() + n[5]) / away;
        const float root = 1.0F - view.bend * (x * x + y * y);
        if (!(away > 0.1F && root > 0.0F)) {
            sum += farthest;
            continue;
        }
        const float stretch = 2.0F / (1.0F + std::sqrt(root));
        x = view.middle_x + x * stretch;
        y = view.middle_y + y * stretch;
        const bool inside = x >= 0.0F && y >= 0.0F && x < right && y < bottom;
        sum += inside ? ridges.away_px(static_cast<int>(y), static_cast<int>(x)) : 0.5F * farthest;
    }
    return static_cast<double>(sum) / static_cast<double>(std::max<std::size_t>(1, places.size()));
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
    std::array<int, 3> cell{}; ///< turn, tilt and zoom, in steps of the grid
};

void keep_best(std::vector<Candidate>& all, std::size_t most) {
    most = std::min(most, all.size());
    std::ranges::partial_sort(all, all.begin() + static_cast<std::ptrdiff_t>(most), {}, &Candidate::cost);
    all.resize(most);
}

bool beside(const Candidate& a, const Candidate& b) {
    for (std::size_t i = 0; i < 3; ++i) {
        if (std::abs(a.cell[i] - b.cell[i]) > 1) return false;
    }
    return true;
}

/// Best of a grid of turns and zooms, no two of them close: all of it by few places, the best of that by more.
std::vector<Candidate> from_grid(const TurningCamera& guess, const std::vector<PaintSample>& samples,
                                 const RidgeMap& ridges, const WideReach& reach) {
    constexpr std::size_t few_places = 40, more_places = 120, few_cameras = 80, most_cameras = 5;
    constexpr double step_px = 14.0, zoom_step = 0.04;
    const IcePlaces more = in_sight(guess, samples, 0.6 * reach.turn_px, more_places),
                    few = few_of(more, few_places);
    const int turns = static_cast<int>(std::ceil(reach.turn_px / step_px)), tilts = (turns + 1) / 2;
    const int zooms = static_cast<int>(std::lround(reach.zoom / zoom_step));
    std::vector<Candidate> all;
    for (int zoom = -zooms; zoom <= zooms; ++zoom) {
        for (int tilt = -tilts; tilt <= tilts; ++tilt) {
            for (int turn = -turns; turn <= turns; ++turn) {
                const TurningCamera camera = turned(guess, turn * step_px, tilt * step_px, zoom * zoom_step);
                all.push_back({camera, cost_of(camera, few, ridges), {turn, tilt, zoom}});
            }
        }
    }
    keep_best(all, few_cameras);
    for (Candidate& candidate : all)
        candidate.cost = cost_of(candidate.camera, more, ridges);
    std::ranges::sort(all, {}, &Candidate::cost);
    std::vector<Candidate> apart;
    for (const Candidate& candidate : all) {
        const auto close = [&](const Candidate& taken) { return beside(taken, candidate); };
        if (apart.size() < most_cameras && std::ranges::none_of(apart, close)) apart.push_back(candidate);
    }
    return apart;
}

/// Downhill along each of turn, zoom and place in turn, in steps that shrink.
Candidate settled(Candidate at, const std::vector<PaintSample>& samples, const RidgeMap& ridges,
                  double place_m) {
    const IcePlaces used = in_sight(at.camera, samples, 0.0, 160);
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
                at.camera = tried;
                at.cost = cost;
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
    constexpr double widest_px = 640.0; // a larger film's lines are wider: no more of it is needed
    RidgeMap map;
    map.scale = std::min(map.scale, widest_px / grey.cols);
    cv::Mat half, closed, ridge, dense;
    cv::resize(grey, half, {}, map.scale, map.scale, cv::INTER_AREA);
    const double level = ice_level(half);
    // A square one goes by rows and then by columns, many times as fast as a round one.
    static const cv::Mat element = cv::getStructuringElement(cv::MORPH_RECT, {9, 9});
    cv::morphologyEx(half, closed, cv::MORPH_CLOSE, element);
    ridge = ((closed - half) > ridge_darkness) & (closed > 0.75 * level);
    // Paint is thin and alone; what fills a place is a crowd, letters or a
    // player.
    cv::boxFilter(ridge, dense, CV_8U, {31, 31});
    ridge.setTo(0, dense > 90);
    cv::distanceTransform(~ridge, map.away_px, cv::DIST_L2, 3);
    map.away_px = cv::min(map.away_px / map.scale, farthest_px);
    return map;
}

std::optional<PaintUpdate> search_wide(const CameraBelief& guess, const std::vector<PaintSample>& samples,
                                       const RidgeMap& ridges, const PictureView& picture,
                                       const WideReach& reach) {
    std::vector<Candidate> candidates = from_grid(guess.camera, samples, ridges, reach);
    if (candidates.empty() || candidates.front().cost > hopeless * farthest_px) return std::nullopt;
    for (Candidate& candidate : candidates)
        candidate = settled(candidate, samples, ridges, reach.place_m);
    const auto best = std::ranges::min_element(candidates, {}, &Candidate::cost);
    if (best->cost > 0.35 * farthest_px) return std::nullopt;
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
