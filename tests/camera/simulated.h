// Clicks on a known camera with known noise: what simulated fits are made of.
#pragma once

#include "camera/made_camera.h"
#include "camera/rink_fit.h"
#include "rink/curves.h"
#include "rink/landmarks.h"

#include <cmath>
#include <cstdlib>
#include <random>
#include <string>
#include <vector>

namespace ropeline::simulated {

/// Under the sanitizers a fit takes twenty times as long, and it is memory that is looked at, not statistics: so
/// many times fewer draws are made there, and bounds are as much wider as chance is. Not so in a long run.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline const int fewer = std::getenv("ROPELINE_LONG_TESTS") ? 1 : 16;
#else
inline constexpr int fewer = 1;
#endif
inline double by_chance(double bound) {
    return bound * std::sqrt(fewer);
}

inline const RuleBook& nhl = rule_book(RuleBookId::nhl);

struct Scene {
    made::Camera camera;
    std::vector<Landmark> marks;
    std::vector<std::pair<std::string, IcePoint>> on_curves;
};

inline Scene scene(const std::vector<const char*>& names, double radial = 0.0) {
    Scene made;
    made.camera.x_m = 6.0;
    made.camera.y_m = 33.0;
    made.camera.height_m = 11.0;
    made.camera.looks_at = {0.5, 6.0};
    made.camera.focal_px = 1900.0;
    made.camera.radial = radial;
    for (const char* name : names)
        made.marks.push_back(find_landmark(nhl, name).value());
    return made;
}

inline const std::vector<const char*> eight{"left_post",          "right_post",     "crease_top",
                                            "left_spot",          "right_spot",     "left_circle_high",
                                            "right_circle_inner", "left_circle_low"};
inline const std::vector<const char*> fourteen{
    "left_post",         "right_post",         "crease_top",        "left_spot",        "right_spot",
    "left_circle_high",  "right_circle_inner", "left_circle_low",   "right_circle_low", "right_circle_high",
    "left_circle_inner", "left_circle_outer",  "right_inner_l_low", "left_outer_l_high"};

class Noise {
public:
    explicit Noise(unsigned seed) : random_(seed) {}
    ImagePoint shaken(ImagePoint at, double sigma_px) {
        const double x = normal_(random_), y = normal_(random_);
        return {at.x_px + sigma_px * x, at.y_px + sigma_px * y};
    }
    IcePoint place() { return {-4.0 + 8.0 * share_(random_), 0.2 + 7.0 * share_(random_)}; }

private:
    std::mt19937 random_;
    std::normal_distribution<double> normal_;
    std::uniform_real_distribution<double> share_;
};

inline RinkClicks shaken_clicks(const Scene& from, double sigma_px, Noise& noise) {
    RinkClicks clicks;
    for (const Landmark& mark : from.marks) {
        clicks.points.push_back(
            {noise.shaken(made::see(from.camera, mark.at), sigma_px), mark.at, mark.label});
    }
    for (const auto& [curve, at] : from.on_curves) {
        clicks.curves.push_back(
            {noise.shaken(made::see(from.camera, at), sigma_px), find_curve(nhl, curve).value()});
    }
    return clicks;
}

inline void add_curves(Scene& to) {
    for (const double x : {-6.0, -1.0, 4.0})
        to.on_curves.emplace_back("goal_line", IcePoint{x, 0.0});
    for (const double angle : {0.4, 1.5, 2.7, 4.0, 5.5}) {
        to.on_curves.emplace_back(
            "left_circle", IcePoint{-6.7056 + 4.572 * std::cos(angle), 6.096 + 4.572 * std::sin(angle)});
        to.on_curves.emplace_back(
            "right_circle", IcePoint{6.7056 + 4.572 * std::cos(angle), 6.096 + 4.572 * std::sin(angle)});
    }
    for (const double angle : {1.2, 1.9}) {
        to.on_curves.emplace_back("crease", IcePoint{1.8288 * std::cos(angle), 1.8288 * std::sin(angle)});
    }
}

} // namespace ropeline::simulated
