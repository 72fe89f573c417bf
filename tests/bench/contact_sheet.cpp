#include "contact_sheet.h"

#include "carry/encoder.h"
#include "demo/filming.h"
#include "film/rgb.h"
#include "rink/paint.h"

#include <fmt/core.h>
#include <opencv2/imgproc.hpp>

#include <iterator>

namespace ropeline {
namespace {

constexpr int columns = 3, rows = 4;
const cv::Size cell{640, 360};

void draw_rink(cv::Mat& rgb, const RinkFit& fit, const cv::Scalar& colour) {
    constexpr int fraction_bits = 4;
    for (const PaintLine& line : rink_paint(rule_book(demo::demo_rules))) {
        std::vector<cv::Point> run;
        const auto finish = [&] {
            if (run.size() > 1) cv::polylines(rgb, run, false, colour, 1, cv::LINE_AA, fraction_bits);
            run.clear();
        };
        for (const IcePoint at : line.points) {
            const auto pixel = image_at(fit, at);
            const bool near = pixel && std::abs(pixel->x_px) < 8000.0 && std::abs(pixel->y_px) < 8000.0;
            if (!near) {
                finish();
                continue;
            }
            run.emplace_back(static_cast<int>(std::lround((pixel->x_px - 0.5) * (1 << fraction_bits))),
                             static_cast<int>(std::lround((pixel->y_px - 0.5) * (1 << fraction_bits))));
        }
        finish();
    }
}

cv::Mat drawn(FilmReader& film, int frame, const SheetFrame& told) {
    RgbPicture picture = rgb_of(*film.picture(FrameIndex{frame}), film.facts());
    cv::Mat rgb(picture.height_px, picture.width_px, CV_8UC3, picture.bytes.data());
    if (told.carried.state != CarryState::lost) {
        draw_rink(rgb, told.carried.fit,
                  told.carried.state == CarryState::held ? cv::Scalar(0, 255, 80) : cv::Scalar(255, 220, 0));
    }
    cv::Mat small;
    cv::resize(rgb, small, cell, 0, 0, cv::INTER_AREA);
    cv::putText(small, fmt::format("{} {} {:.2f} m", frame, key_of(told.carried.state), told.error_m),
                {8, 350}, cv::FONT_HERSHEY_SIMPLEX, 0.5, {255, 0, 255}, 1, cv::LINE_AA);
    return small;
}

} // namespace

void write_contact_sheet(const std::filesystem::path& path, FilmReader& film,
                         const std::map<int, SheetFrame>& frames) {
    if (frames.empty()) return;
    cv::Mat sheet = cv::Mat::zeros(rows * cell.height, columns * cell.width, CV_8UC3);
    for (int i = 0; i < columns * rows; ++i) {
        const auto step = static_cast<std::ptrdiff_t>(i * (frames.size() - 1) / (columns * rows - 1));
        const auto& [frame, told] = *std::next(frames.begin(), step);
        drawn(film, frame, told)
            .copyTo(sheet(cv::Rect(cv::Point(i % columns * cell.width, i / columns * cell.height), cell)));
    }
    write_picture(path, {sheet.cols, sheet.rows}, {sheet.data, sheet.total() * sheet.elemSize()});
}

} // namespace ropeline
