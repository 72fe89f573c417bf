#include "camera/paint_directions.h"

#include "camera/paint_ridges.h"
#include "camera/projection.h"

#include <opencv2/imgproc.hpp>

#include <cmath>
#include <cstring>
#include <numbers>

namespace ropeline {
namespace {

constexpr int sought_width_px = 1280; ///< pictures are brought to this width first
constexpr double least_coherence = 0.35;
constexpr double within_rad = 33.0 * std::numbers::pi / 180.0;
constexpr double falls_off_px = 2.6; ///< in pixels of a map

/// Products of the slopes of brightness, summed about each pixel.
struct SlopeSums {
    cv::Mat1f xx, xy, yy;
};

SlopeSums slope_sums(const cv::Mat& grey) {
    cv::Mat1f right, down;
    cv::Sobel(grey, right, CV_32F, 1, 0);
    cv::Sobel(grey, down, CV_32F, 0, 1);
    SlopeSums sums;
    const cv::Size about{7, 7};
    cv::boxFilter(right.mul(right), sums.xx, CV_32F, about);
    cv::boxFilter(right.mul(down), sums.xy, CV_32F, about);
    cv::boxFilter(down.mul(down), sums.yy, CV_32F, about);
    return sums;
}

/// Marks the ways that a line at this angle belongs to.
void mark(LineMap& map, const Eigen::Vector2d& film_px, double line_rad) {
    const int x = static_cast<int>(std::floor(film_px.x() * map.scale)),
              y = static_cast<int>(std::floor(film_px.y() * map.scale));
    if (x < 0 || y < 0 || x >= map.near[0].cols || y >= map.near[0].rows) return;
    for (std::size_t way = 0; way < line_ways; ++way) {
        const double off = std::remainder(line_rad - static_cast<double>(way) * std::numbers::pi / line_ways,
                                          std::numbers::pi);
        if (std::abs(off) < within_rad) map.near[way](y, x) = 0;
    }
}

/// From marks to nearness above the usual.
void finish(LineMap& map) {
    for (cv::Mat1b& marks : map.near) {
        cv::Mat1f away, near, usual;
        cv::distanceTransform(marks, away, cv::DIST_L2, 3);
        cv::exp(away.mul(away) * (-0.5 / (falls_off_px * falls_off_px)), near);
        const int about = marks.cols / 5 | 1;
        cv::boxFilter(near, usual, CV_32F, {about, about});
        cv::Mat_<std::int8_t> above;
        cv::Mat(127.0 * (near - usual)).convertTo(above, CV_8S);
        marks = cv::Mat1b(above.rows, above.cols);
        std::memcpy(marks.data, above.data, above.total());
    }
}

LineMap empty_map(cv::Size film, int width_px) {
    LineMap map;
    map.scale = static_cast<double>(width_px) / film.width;
    for (cv::Mat1b& marks : map.near)
        marks =
            cv::Mat1b(static_cast<int>(std::lround(film.height * map.scale)), width_px, std::uint8_t{255});
    return map;
}

} // namespace

std::size_t way_of(float right, float down) {
    constexpr float tangent = 0.41421356F; // of half a way's width, 22.5 degrees
    const float flat = std::abs(right), steep = std::abs(down);
    if (steep <= tangent * flat) return 0;
    if (flat <= tangent * steep) return 2;
    return (right > 0.0F) == (down > 0.0F) ? 1 : 3;
}

LineMaps line_maps(const cv::Mat& grey, double radial) {
    cv::Mat whole, half;
    const double to_sought = static_cast<double>(sought_width_px) / grey.cols;
    cv::resize(grey, whole, {}, to_sought, to_sought, to_sought < 1.0 ? cv::INTER_AREA : cv::INTER_LINEAR);
    const RidgeMap ridges = ridge_map(whole);
    cv::resize(whole, half, ridges.away_px.size(), 0.0, 0.0, cv::INTER_AREA);
    const SlopeSums sums = slope_sums(half);
    LineMaps maps{empty_map(grey.size(), sought_width_px / 8), empty_map(grey.size(), sought_width_px / 4),
                  empty_map(grey.size(), sought_width_px / 2), 0};
    const double film_px = 1.0 / (to_sought * ridges.scale);
    const Lens lens = lens_of({grey.cols, grey.rows});
    for (int y = 0; y < half.rows; ++y) {
        for (int x = 0; x < half.cols; ++x) {
            if (ridges.away_px(y, x) > 0.0F) continue;
            const double xx = sums.xx(y, x), xy = sums.xy(y, x), yy = sums.yy(y, x);
            if (std::hypot(xx - yy, 2.0 * xy) < least_coherence * (xx + yy)) continue;
            const double line_rad = 0.5 * std::atan2(2.0 * xy, xx - yy) + 0.5 * std::numbers::pi;
            const Eigen::Vector2d at = straightened(lens, radial, {(x + 0.5) * film_px, (y + 0.5) * film_px});
            ++maps.pixels;
            for (LineMap* map : {&maps.rough, &maps.coarse, &maps.fine})
                mark(*map, at, line_rad);
        }
    }
    for (LineMap* map : {&maps.rough, &maps.coarse, &maps.fine})
        finish(*map);
    return maps;
}

} // namespace ropeline
