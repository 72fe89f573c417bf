#include "camera/film_light.h"

#include <opencv2/imgproc.hpp>

#include <utility>

namespace ropeline {
namespace {

constexpr double lit_levels = 8.0;      // brighter than the frame before by so much: a flash
constexpr double most_gain = 2.5;       // a flash does not make more of a picture's contrast
constexpr int lit_frames = 5;           // for longer it is the light that changed
constexpr double cut_difference = 28.0; // mean change of the small picture, of 255

cv::Mat small_of(const cv::Mat& grey) {
    cv::Mat small;
    cv::resize(grey, small, {64, 36}, 0, 0, cv::INTER_AREA);
    return small;
}

double change(const cv::Mat& from, const cv::Mat& to) {
    return cv::norm(from, to, cv::NORM_L1) / static_cast<double>(from.total());
}

} // namespace

void FilmLight::start(const cv::Mat& grey) {
    small_ = small_of(grey);
    brightness_ = brightness_of(grey);
    lit_ = since_start_ = 0;
}

FilmLight::Arrived FilmLight::arrive(cv::Mat grey) {
    Arrived arrived;
    const Brightness now = brightness_of(grey);
    const cv::Mat as_it_is = small_of(grey);
    if (since_start_++ < lit_frames && now.mean < brightness_.mean - lit_levels &&
        brightness_.spread < most_gain * now.spread) {
        const cv::Mat dimmed = as_bright_as(small_, brightness_, now);
        arrived.dimmed = change(dimmed, as_it_is) < cut_difference; // else it is another shot, and dark
        if (arrived.dimmed) {
            arrived.before = brightness_;
            arrived.after = now;
            small_ = dimmed;
        }
    }
    const bool brighter =
        now.mean > brightness_.mean + lit_levels && now.spread < most_gain * brightness_.spread;
    lit_ = brighter ? lit_ + 1 : 0;
    if (lit_ > 0 && lit_ <= lit_frames) {
        grey = as_bright_as(grey, now, brightness_);
    } else {
        brightness_ = now;
    }
    cv::Mat next = small_of(grey);
    arrived.cut = change(small_, next) > cut_difference;
    small_ = std::move(next);
    arrived.grey = std::move(grey);
    return arrived;
}

} // namespace ropeline
