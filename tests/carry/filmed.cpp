#include "carry/filmed.h"

#include "demo/figure.h"
#include "demo/filming.h"
#include "depth/reading.h"
#include "rink/landmarks.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <random>
#include <stdexcept>
#include <utility>

namespace ropeline {
namespace {

constexpr double rate_hz = 30.0;

/// Under the sanitizers a film takes twenty times as long: long ones are made at half the size there.
bool at_half_size([[maybe_unused]] const Filming& filming, [[maybe_unused]] int frames) {
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
    return !std::getenv("ROPELINE_LONG_TESTS") && filming.size == ImageSize{1280, 720} && frames >= 20;
#else
    return false;
#endif
}

const demo::Play& play() {
    static const demo::Play made = demo::make_play(11, false);
    return made;
}

const demo::Arena& arena(const Filming& filming) {
    static std::map<std::pair<bool, bool>, demo::Arena> made;
    const std::pair kind{filming.television, filming.as_painted};
    if (!made.contains(kind)) {
        const RuleBook& book = rule_book(demo::demo_rules);
        made.emplace(
            std::piecewise_construct, std::forward_as_tuple(kind),
            std::forward_as_tuple(filming.as_painted ? demo::as_painted(book) : book, 11,
                                  filming.television ? demo::television_paint() : demo::PaintLook{}));
    }
    return made.at(kind);
}

demo::PinholeCamera camera_at(double seconds, demo::Vec3 place, const std::function<Aim(double)>& aim_at_s,
                              const Filming& filming) {
    const Aim aim = aim_at_s(seconds);
    if (filming.walk) place = place + filming.walk(seconds);
    demo::PinholeCamera camera = demo::aimed(place, {aim.at.x_m, aim.at.y_m, 0.6}, aim.focal_px);
    camera.size = filming.size;
    camera.radial = filming.radial;
    return camera;
}

demo::Panorama panorama_for(const std::vector<demo::PinholeCamera>& cameras, const Filming& filming) {
    double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9, focal = 0.0;
    for (const demo::PinholeCamera& camera : cameras) {
        const demo::CameraAxes view = demo::axes(camera);
        focal = std::max(focal, camera.focal_px);
        for (const double u : {0.0, 0.5, 1.0}) {
            for (const double v : {0.0, 0.5, 1.0}) {
                const demo::Vec3 way =
                    demo::ray_through(camera, view, {u * camera.size.width_px, v * camera.size.height_px});
                const double azimuth = demo::azimuth_near(cameras[0].pan_rad, way),
                             slope = -way.z / std::hypot(way.x, way.y);
                left = std::min(left, azimuth);
                right = std::max(right, azimuth);
                top = std::min(top, slope);
                bottom = std::max(bottom, slope);
            }
        }
    }
    return {arena(filming), cameras[0].position, left - 0.02, right + 0.02,
            top - 0.02,     bottom + 0.02,       focal * 0.92};
}

ImagePoint seen(const demo::PinholeCamera& camera, IcePoint at) {
    return demo::project(camera, demo::axes(camera), {at.x_m, at.y_m, 0.0}).at;
}

bool inside(const demo::PinholeCamera& camera, ImagePoint at) {
    return at.x_px > 4.0 && at.y_px > 4.0 && at.x_px < camera.size.width_px - 4.0 &&
           at.y_px < camera.size.height_px - 4.0;
}

} // namespace

FilmedShot::FilmedShot(demo::Vec3 place, const std::function<Aim(double)>& aim_at_s, int frames,
                       int first_of_play, const Filming& filming)
    : first_of_play_(first_of_play), filming_(filming) {
    const bool half = at_half_size(filming, frames);
    if (half) filming_.size = {640, 360};
    const auto aimed = [&](double seconds) {
        Aim aim = aim_at_s(seconds);
        if (half) aim.focal_px /= 2.0;
        return aim;
    };
    for (int frame = 0; frame < frames; ++frame) {
        const double s = frame / rate_hz;
        cameras_.push_back(camera_at(s, place, aimed, filming_));
        for (int i = 0; i < filming.exposures; ++i) {
            const double share =
                filming.exposures == 1 ? 0.0 : static_cast<double>(i) / (filming.exposures - 1) - 0.5;
            exposed_.push_back(camera_at(s + filming_.shutter * share / rate_hz, place, aimed, filming_));
        }
    }
}

const demo::Instant& FilmedShot::instant(int frame) const {
    return play().frames.at(static_cast<std::size_t>(first_of_play_ + frame));
}

demo::Canvas FilmedShot::exposure(const demo::PinholeCamera& camera, const demo::Instant& now) const {
    constexpr demo::Kit home{{20, 80, 107}, {226, 184, 74}, {27, 36, 48},
                             {20, 80, 107}, {27, 36, 48},   {27, 36, 48}};
    constexpr demo::Kit visitors{{221, 106, 47}, {247, 235, 221}, {43, 35, 34},
                                 {221, 106, 47}, {244, 244, 244}, {43, 35, 34}};
    demo::Canvas canvas(camera.size);
    if (!filming_.walk && !panorama_) panorama_ = panorama_for(exposed_, filming_);
    if (panorama_) {
        panorama_->draw(canvas, camera);
    } else {
        canvas = demo::still_backdrop(arena(filming_), camera);
    }
    std::vector<demo::Figure> figures = demo::net_figures(rule_book(demo::demo_rules));
    for (std::size_t who = 0; who < now.skaters.size(); ++who) {
        figures.push_back(demo::skater_figure(now.skaters[who], who < 5 ? visitors : home, who % 2 == 0));
    }
    figures.push_back(demo::goalie_figure(now.goalie, home, true));
    demo::Mask mask(canvas.size);
    demo::draw(canvas, mask, camera, figures);
    return canvas;
}

demo::Canvas FilmedShot::picture(int frame) const {
    const auto first = static_cast<std::size_t>(frame * filming_.exposures);
    demo::Canvas canvas = exposure(exposed_[first], instant(frame));
    if (filming_.exposures > 1) {
        std::vector<int> sums(canvas.rgb.begin(), canvas.rgb.end());
        for (int i = 1; i < filming_.exposures; ++i) {
            const demo::Canvas more = exposure(exposed_[first + static_cast<std::size_t>(i)], instant(frame));
            for (std::size_t k = 0; k < sums.size(); ++k)
                sums[k] += more.rgb[k];
        }
        for (std::size_t k = 0; k < sums.size(); ++k)
            canvas.rgb[k] = static_cast<std::uint8_t>(sums[k] / filming_.exposures);
    }
    demo::dress(canvas, filming_.look, camera(frame), frame, 11);
    if (filming_.grain == 0) return canvas;
    std::minstd_rand random(static_cast<unsigned>(frame + 1));
    for (std::uint8_t& value : canvas.rgb) {
        const int noise = static_cast<int>(random() >> 16) % (2 * filming_.grain + 1) - filming_.grain;
        value = static_cast<std::uint8_t>(std::clamp(value + noise, 0, 255));
    }
    return canvas;
}

PictureView view_of(const demo::Canvas& canvas) {
    return {canvas.rgb.data(), canvas.size.width_px, canvas.size.height_px, 3 * canvas.size.width_px};
}

std::vector<LandmarkClick> clicks_in_sight(const demo::PinholeCamera& camera, double noise_px,
                                           unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> noise;
    std::vector<LandmarkClick> clicks;
    for (const char* name : {"left_post", "right_post", "crease_top", "left_spot", "right_spot",
                             "left_circle_high", "right_circle_inner", "left_circle_low", "right_circle_low",
                             "left_circle_inner", "left_inner_l_high", "right_circle_high"}) {
        const Landmark mark = find_landmark(rule_book(demo::demo_rules), name).value();
        const ImagePoint at = seen(camera, mark.at);
        if (!inside(camera, at) || clicks.size() == 8) continue;
        clicks.push_back(
            {{at.x_px + noise_px * noise(random), at.y_px + noise_px * noise(random)}, mark.at, mark.label});
    }
    if (clicks.size() < 5) throw std::logic_error("the camera sees fewer than five landmarks");
    return clicks;
}

RinkFit clicked_fit(const demo::PinholeCamera& camera, double noise_px, unsigned seed) {
    return fit_rink(clicks_in_sight(camera, noise_px, seed), camera.size);
}

double depth_error_m(const RinkFit& fit, const demo::PinholeCamera& camera, const demo::Instant& instant) {
    const ImagePoint at = seen(camera, instant.goalie.at);
    if (!inside(camera, at)) return -1.0;
    const auto ice = ice_at(fit, at);
    if (!ice) return 99.0;
    const IcePoint puck{instant.puck.x, instant.puck.y};
    return std::abs(depth_m(*ice, puck) - depth_m(instant.goalie.at, puck));
}

} // namespace ropeline
