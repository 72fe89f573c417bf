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
constexpr int strips = 15; // that a rolling shutter is rendered in

/// Rendering takes most of the tests' time: long films are made at half the size, unless all is to be tested.
bool at_half_size(const Filming& filming, int frames) {
    return !std::getenv("ROPELINE_LONG_TESTS") && !filming.keeps_size &&
           filming.size == ImageSize{1280, 720} && frames >= 20;
}

/// So much noise for each byte, always the same for a frame.
void add_grain(demo::Canvas& canvas, int grain, int frame) {
    constexpr std::size_t count = std::size_t{1} << 16;
    static const std::vector<std::uint32_t> drawn = [] {
        std::vector<std::uint32_t> numbers(count);
        std::minstd_rand random(1);
        for (std::uint32_t& number : numbers)
            number = static_cast<std::uint32_t>(random() >> 16);
        return numbers;
    }();
    std::vector<int> noise(count);
    std::ranges::transform(drawn, noise.begin(), [&](std::uint32_t number) {
        return static_cast<int>(number % static_cast<unsigned>(2 * grain + 1)) - grain;
    });
    std::minstd_rand random(static_cast<unsigned>(frame + 1));
    const auto row_bytes = static_cast<std::size_t>(3 * canvas.size.width_px);
    for (std::size_t row = 0; row < canvas.rgb.size(); row += row_bytes) {
        const std::size_t from = random() % count; // each row begins elsewhere
        for (std::size_t i = row; i < row + row_bytes; ++i)
            canvas.rgb[i] =
                static_cast<std::uint8_t>(std::clamp(canvas.rgb[i] + noise[(from + i) % count], 0, 255));
    }
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

/// When each of the exposures of a frame is made, in frames about its own time.
std::vector<double> exposure_times(const Filming& filming) {
    if (filming.interlaced) return {-0.25, 0.25};
    std::vector<double> times;
    if (filming.readout_s > 0.0) {
        for (int strip = 0; strip < strips; ++strip)
            times.push_back(filming.readout_s * rate_hz * ((strip + 0.5) / strips - 0.5));
        return times;
    }
    for (int i = 0; i < filming.exposures; ++i)
        times.push_back(filming.exposures == 1
                            ? 0.0
                            : filming.shutter * (static_cast<double>(i) / (filming.exposures - 1) - 0.5));
    return times;
}

} // namespace

double seconds_of(const Filming& filming, int frame) {
    return (frame + filming.jitter * std::sin(1.7 * frame)) / rate_hz;
}

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
    const std::vector<double> times = exposure_times(filming);
    exposed_a_frame_ = static_cast<int>(times.size());
    for (int frame = 0; frame < frames; ++frame) {
        const double s = seconds_of(filming, frame);
        cameras_.push_back(camera_at(s, place, aimed, filming_));
        for (const double after : times)
            exposed_.push_back(camera_at(s + after / rate_hz, place, aimed, filming_));
    }
}

const demo::PinholeCamera& FilmedShot::camera_showing(int frame, IcePoint at) const {
    if (!(filming_.readout_s > 0.0)) return camera(frame);
    const double row = std::clamp(seen(camera(frame), at).y_px / filming_.size.height_px, 0.0, 0.999);
    return exposed_[static_cast<std::size_t>(frame * strips + static_cast<int>(row * strips))];
}

const demo::Instant& FilmedShot::instant(int frame) const {
    const std::vector<demo::Instant>& frames = play().frames; // once more from its beginning in a long film
    return frames[static_cast<std::size_t>(first_of_play_ + frame) % frames.size()];
}

demo::Canvas FilmedShot::exposure(const demo::PinholeCamera& camera, const demo::Instant& now) const {
    constexpr demo::Kit home{demo::rgb(0x14506B), demo::rgb(0xE2B84A), demo::rgb(0x1B2430),
                             demo::rgb(0x14506B), demo::rgb(0x1B2430), demo::rgb(0x1B2430)};
    constexpr demo::Kit visitors{demo::rgb(0xDD6A2F), demo::rgb(0xF7EBDD), demo::rgb(0x2B2322),
                                 demo::rgb(0xDD6A2F), demo::rgb(0xF4F4F4), demo::rgb(0x2B2322)};
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

demo::Canvas FilmedShot::mean_of_exposures(int frame) const {
    const auto first = static_cast<std::size_t>(frame * exposed_a_frame_);
    demo::Canvas canvas = exposure(exposed_[first], instant(frame));
    if (exposed_a_frame_ == 1) return canvas;
    std::vector<int> sums(canvas.rgb.begin(), canvas.rgb.end());
    for (int i = 1; i < exposed_a_frame_; ++i) {
        const demo::Canvas more = exposure(exposed_[first + static_cast<std::size_t>(i)], instant(frame));
        for (std::size_t k = 0; k < sums.size(); ++k)
            sums[k] += more.rgb[k];
    }
    for (std::size_t k = 0; k < sums.size(); ++k)
        canvas.rgb[k] = static_cast<std::uint8_t>(sums[k] / exposed_a_frame_);
    return canvas;
}

/// Fields or strips, each from a picture of its own time.
demo::Canvas FilmedShot::row_by_row(int frame) const {
    demo::Canvas canvas(filming_.size);
    const auto row_bytes = static_cast<std::size_t>(3 * filming_.size.width_px);
    for (int part = 0; part < exposed_a_frame_; ++part) {
        const demo::Canvas whole =
            exposure(exposed_[static_cast<std::size_t>(frame * exposed_a_frame_ + part)], instant(frame));
        const int height = filming_.size.height_px, step = filming_.interlaced ? 2 : 1;
        const int first = filming_.interlaced ? part : height * part / strips;
        const int end = filming_.interlaced ? height : height * (part + 1) / strips;
        for (int row = first; row < end; row += step) {
            const auto at = static_cast<std::size_t>(row) * row_bytes;
            std::copy_n(&whole.rgb[at], row_bytes, &canvas.rgb[at]);
        }
    }
    return canvas;
}

demo::Canvas FilmedShot::picture(int frame) const {
    demo::Canvas canvas = in_parts() ? row_by_row(frame) : mean_of_exposures(frame);
    demo::dress(canvas, filming_.look, camera(frame), frame, 11);
    if (filming_.grain > 0) add_grain(canvas, filming_.grain, frame);
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
