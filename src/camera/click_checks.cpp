#include "camera/click_checks.h"

#include <Eigen/Core>
#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <vector>

namespace ropeline {
namespace {

constexpr double same_place_m = 1e-3;
constexpr double same_pixel_px = 0.5;
constexpr double side_by_side_m = 0.3; // corner and mark of the crease meet in a wide picture
// Nearer a line than this counts as on it: nothing is learnt about the direction across.
constexpr double flat_on_ice = 0.01; // share of the length of the two places that span the line
constexpr double flat_in_picture_px = 2.0;

bool usable(std::initializer_list<double> numbers) {
    return std::ranges::all_of(numbers,
                               [](double number) { return std::isfinite(number) && std::abs(number) < 1e7; });
}

[[noreturn]] void refuse_number(const std::string& name) {
    throw FitError(FitFault::bad_number,
                   fmt::format("{} has a coordinate that is not a usable number; click it again", name));
}

void check_numbers(const RinkClicks& clicks, ImageSize image) {
    if (image.width_px <= 0 || image.height_px <= 0) {
        throw FitError(FitFault::bad_number,
                       fmt::format("the picture is {} x {} px; both sides must be at least 1 px",
                                   image.width_px, image.height_px));
    }
    for (const LandmarkClick& click : clicks.points) {
        if (!usable({click.at.x_px, click.at.y_px, click.point.x_m, click.point.y_m}))
            refuse_number(name_of(click));
    }
    for (const CurveClick& click : clicks.curves) {
        if (!usable({click.at.x_px, click.at.y_px})) refuse_number(name_of(click));
        if (click.curve.pieces.empty()) refuse_number(name_of(click));
    }
}

void check_count(const RinkClicks& clicks) {
    if (clicks.curves.empty() && clicks.points.size() < 4) {
        throw FitError(
            FitFault::too_few,
            fmt::format("{} landmark{} clicked; a rink fit needs four, no three of them on one line",
                        clicks.points.size(), clicks.points.size() == 1 ? " is" : "s are"));
    }
    const std::size_t numbers = 2 * clicks.points.size() + clicks.curves.size();
    if (numbers < 8) {
        throw FitError(
            FitFault::too_few,
            fmt::format(
                "{} landmarks and {} clicks on lines give {} numbers, two a landmark and one a line; a rink "
                "fit needs eight",
                count_word(clicks.points.size()), count_word(clicks.curves.size()), numbers));
    }
}

void check_repeats(std::span<const LandmarkClick> clicks) {
    for (std::size_t i = 0; i < clicks.size(); ++i) {
        for (std::size_t j = i + 1; j < clicks.size(); ++j) {
            if (distance(clicks[i].point, clicks[j].point) < same_place_m) {
                throw FitError(FitFault::repeated,
                               fmt::format("{} is clicked twice; remove one of the two clicks or give it "
                                           "the landmark it shows",
                                           name_of(clicks[i])));
            }
            const double apart =
                std::hypot(clicks[i].at.x_px - clicks[j].at.x_px, clicks[i].at.y_px - clicks[j].at.y_px);
            if (apart < same_pixel_px && distance(clicks[i].point, clicks[j].point) > side_by_side_m) {
                throw FitError(FitFault::repeated,
                               fmt::format("{} and {} are clicked on the same spot of the picture; move "
                                           "or remove one",
                                           name_of(clicks[i]), name_of(clicks[j])));
            }
        }
    }
}

/// The most places on one line through two of them, as indices. A camera needs two places off every line.
std::vector<std::size_t> largest_line(const std::vector<Eigen::Vector2d>& places, bool in_picture) {
    std::vector<std::size_t> largest;
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (std::size_t j = i + 1; j < places.size(); ++j) {
            const Eigen::Vector2d along = places[j] - places[i];
            const double flat = in_picture ? flat_in_picture_px : flat_on_ice * along.norm();
            std::vector<std::size_t> on_line;
            for (std::size_t k = 0; k < places.size(); ++k) {
                const Eigen::Vector2d to = places[k] - places[i];
                const double off_line = std::abs(along.x() * to.y() - along.y() * to.x()) / along.norm();
                if (k == i || k == j || off_line < flat) on_line.push_back(k);
            }
            if (on_line.size() > largest.size()) largest = on_line;
        }
    }
    return largest;
}

void check_lines(std::span<const LandmarkClick> clicks) {
    std::vector<Eigen::Vector2d> ice, pixels;
    for (const LandmarkClick& click : clicks) {
        ice.emplace_back(click.point.x_m, click.point.y_m);
        pixels.emplace_back(click.at.x_px, click.at.y_px);
    }
    for (const bool in_picture : {false, true}) {
        const std::vector<std::size_t> line = largest_line(in_picture ? pixels : ice, in_picture);
        if (line.size() + 1 < clicks.size()) continue;
        const std::string where = in_picture ? "in the picture" : "on the ice";
        if (line.size() == clicks.size()) {
            throw FitError(FitFault::collinear,
                           fmt::format("all {} landmarks lie on one line {}; click two more off that line",
                                       count_word(clicks.size()), where));
        }
        std::vector<std::string> names;
        for (const std::size_t i : line)
            names.push_back(name_of(clicks[i]));
        throw FitError(
            FitFault::collinear,
            fmt::format("{} of the {} landmarks lie on one line {} ({}); click one more off that line",
                        count_word(line.size()), count_word(clicks.size()), where, fmt::join(names, "; ")));
    }
}

} // namespace

std::string name_of(const LandmarkClick& click) {
    if (!click.label.empty()) return click.label;
    return fmt::format("the landmark at ({:.2f}, {:.2f}) m", click.point.x_m, click.point.y_m);
}

std::string name_of(const CurveClick& click) {
    return fmt::format("the click on the {} at ({:.0f}, {:.0f}) px", click.curve.label, click.at.x_px,
                       click.at.y_px);
}

std::string count_word(std::size_t count) {
    constexpr std::array words{"no",  "one",   "two",   "three", "four", "five",
                               "six", "seven", "eight", "nine",  "ten"};
    return count < words.size() ? words[count] : std::to_string(count);
}

void check_clicks(const RinkClicks& clicks, ImageSize image) {
    check_numbers(clicks, image);
    check_count(clicks);
    check_repeats(clicks.points);
    if (clicks.curves.empty()) check_lines(clicks.points);
}

} // namespace ropeline
