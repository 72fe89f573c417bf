#include "follow/followed_figure.h"

#include "camera/turning_camera.h"

#include <Eigen/Core>
#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

namespace ropeline {
namespace {

constexpr double around_m = 2.0;     ///< how far to every side of the first place is looked at
constexpr double tallest_m = 1.9;    ///< of what stands there
constexpr double metre_px = 47.0;    ///< a metre's height in the pictures that are compared
constexpr double most_larger = 3.0;  ///< than the film has it
constexpr double most_px = 2000.0;   ///< of the part of a picture that is looked at, at its scale
constexpr double quickest_m = 0.14;  ///< from one picture to the next, besides going on as before
constexpr double newer_share = 0.15; ///< of the newest picture in what is looked for
constexpr double least_likeness =
    0.62; ///< measured on the demo's films, see tests/follow/followed_figure_test.cpp
constexpr double furthest_return_m = 0.1;

Eigen::Vector2d seen(const TurningCamera& camera, const Eigen::Vector3d& at) {
    const Eigen::Vector3d ray = camera.camera_from_world * (at - camera.place_m);
    return Eigen::Vector2d{camera.image.width_px, camera.image.height_px} / 2.0 +
           camera.focal_px / ray.z() * ray.head<2>();
}

/// The least of three values one apart, as a shift from the middle one: the parabola through them.
double between(double left, double middle, double right) {
    const double bend = left + right - 2.0 * middle;
    return bend > 0.0 ? 0.5 * (left - right) / bend : 0.0;
}

/// How much each pixel of the box counts: those of the figure all alike, the box's edges nothing.
cv::Mat weights(cv::Size size) {
    cv::Mat weight(size, CV_32FC3);
    for (int y = 0; y < size.height; ++y) {
        for (int x = 0; x < size.width; ++x) {
            const double dx = (2.0 * x - size.width) / (0.75 * size.width),
                         dy = (2.0 * y - size.height) / (0.75 * size.height);
            weight.at<cv::Vec3f>(y, x) =
                cv::Vec3f::all(static_cast<float>(std::exp(-0.5 * (dx * dx * dx * dx + dy * dy * dy * dy))));
        }
    }
    return weight;
}

cv::Mat patch_at(const cv::Mat& picture, const cv::Rect& box, cv::Point2d moved) {
    const cv::Mat shift = (cv::Mat_<double>(2, 3) << 1, 0, -(box.x + moved.x), 0, 1, -(box.y + moved.y));
    cv::Mat patch;
    cv::warpAffine(picture, patch, shift, box.size(), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
    return patch;
}

/// Weighted correlation over all three colours, each about its own mean.
/// Source  Pearson's product-moment coefficient
double likeness_of(const cv::Mat& one, const cv::Mat& other, const cv::Mat& weight) {
    const cv::Scalar total = cv::sum(weight);
    const auto about_mean = [&](const cv::Mat& of) {
        const cv::Scalar sum = cv::sum(of.mul(weight));
        return cv::Mat(of - cv::Scalar(sum[0] / total[0], sum[1] / total[1], sum[2] / total[2]));
    };
    const cv::Mat about_one = about_mean(one), about_other = about_mean(other);
    const auto product = [&](const cv::Mat& a, const cv::Mat& b) {
        const cv::Scalar sum = cv::sum(a.mul(b).mul(weight));
        return sum[0] + sum[1] + sum[2];
    };
    const double both = product(about_one, about_one) * product(about_other, about_other);
    return both > 0.0 ? product(about_one, about_other) / std::sqrt(both) : 0.0;
}

} // namespace

struct FigureFollower::Insides {
    /// What of the picture belongs to a figure, in metres about the place where it touches the ice.
    struct Reach {
        double aside_m, up_m, down_m;
    };
    struct Way {
        cv::Point2d moved;
        double likeness = 0.0;
    };
    RinkFit first;
    cv::Point2d corner; ///< of the part looked at, in the first picture
    cv::Size size;
    double scale = 1.0;    ///< its pixels for one of the film
    double metre_px = 1.0; ///< its pixels for a metre of height
    cv::Point2d place;     ///< in it
    Reach reach{};
    std::vector<cv::Mat> pictures; ///< as the first camera sees them

    static Reach reach_of(FigureKind kind);
    std::optional<Way> along(cv::Point2d from, bool back) const;
    std::optional<IcePoint> ice(cv::Point2d at) const {
        return ice_at(first, {corner.x + at.x / scale, corner.y + at.y / scale});
    }
};

FigureFollower::Insides::Reach FigureFollower::Insides::reach_of(FigureKind kind) {
    switch (kind) {
    case FigureKind::goalie:
        return {0.75, 1.5, 0.25};
    case FigureKind::skater:
        return {0.6, 1.7, 0.2};
    case FigureKind::puck: // with the blade that holds it
        return {0.35, 0.35, 0.35};
    }
    return {};
}

bool is_sure(const FollowedFigure& followed) {
    return followed.likeness >= least_likeness && followed.returned_m <= furthest_return_m;
}

FigureFollower::FigureFollower(const RinkFit& first, ImagePoint place, FigureKind kind)
    : insides_(std::make_unique<Insides>()) {
    const auto camera = turning_camera_of(first);
    const auto foot = ice_at(first, place);
    if (!camera || !foot)
        throw FitError(FitFault::not_invertible, "Nothing can be followed by this fit: fit the rink anew.");
    double left = place.x_px, right = left, top = place.y_px, bottom = top;
    for (const double x : {-around_m, around_m}) {
        for (const double y : {-around_m, around_m}) {
            for (const double z : {0.0, tallest_m}) {
                const Eigen::Vector2d at = seen(camera->camera, {foot->x_m + x, foot->y_m + y, z});
                left = std::min(left, at.x()), right = std::max(right, at.x());
                top = std::min(top, at.y()), bottom = std::max(bottom, at.y());
            }
        }
    }
    const Eigen::Vector2d low = seen(camera->camera, {foot->x_m, foot->y_m, 0.0}),
                          high = seen(camera->camera, {foot->x_m, foot->y_m, 1.0});
    Insides& in = *insides_;
    in.first = first;
    in.corner = {left, top};
    in.scale = std::clamp(ropeline::metre_px / std::max(low.y() - high.y(), 1.0), 0.25, most_larger);
    in.metre_px = in.scale * (low.y() - high.y());
    // What stands right before a low camera, or beside it, spreads without end.
    const double larger = std::max(right - left, bottom - top) * in.scale;
    if (!(larger >= 1.0 && larger <= most_px)) return;
    in.size = {static_cast<int>((right - left) * in.scale), static_cast<int>((bottom - top) * in.scale)};
    in.place = {(place.x_px - left) * in.scale, (place.y_px - top) * in.scale};
    in.reach = Insides::reach_of(kind);
}

FigureFollower::~FigureFollower() = default;
FigureFollower::FigureFollower(FigureFollower&&) noexcept = default;
FigureFollower& FigureFollower::operator=(FigureFollower&&) noexcept = default;

// A camera that turns and zooms in its place moves all that it sees by one homography, not the ice alone: the one that
// four places of the ice in both pictures give. Source: Hartley & Zisserman, Multiple View Geometry, 2nd ed., 8.4.
void FigureFollower::see(const PictureView& picture, const RinkFit& rink) {
    Insides& in = *insides_;
    if (in.size.empty()) return;
    const auto foot = in.ice(in.place);
    std::array<cv::Point2f, 4> here, there;
    for (std::size_t i = 0; i < 4; ++i) {
        const IcePoint at{foot->x_m + (i % 2 == 0 ? -around_m : around_m),
                          foot->y_m + (i < 2 ? -around_m : around_m)};
        const auto now = image_at(rink, at), then = image_at(in.first, at);
        if (!now || !then) return;
        here[i] = cv::Point2d(now->x_px - 0.5, now->y_px - 0.5);
        there[i] = cv::Point2d((then->x_px - in.corner.x) * in.scale - 0.5,
                               (then->y_px - in.corner.y) * in.scale - 0.5);
    }
    const cv::Mat rgb(picture.height_px, picture.width_px, CV_8UC3, const_cast<std::uint8_t*>(picture.rgb),
                      static_cast<std::size_t>(picture.stride_bytes));
    cv::Mat still, kept;
    cv::warpPerspective(rgb, still, cv::getPerspectiveTransform(here, there), in.size, cv::INTER_LINEAR,
                        cv::BORDER_REPLICATE);
    still.convertTo(kept, CV_32FC3);
    in.pictures.push_back(kept);
}

std::optional<FigureFollower::Insides::Way> FigureFollower::Insides::along(cv::Point2d from,
                                                                           bool back) const {
    const auto picture = [&](std::size_t step) -> const cv::Mat& {
        return pictures[back ? pictures.size() - 1 - step : step];
    };
    const cv::Rect all({}, size);
    const cv::Rect box = cv::Rect(static_cast<int>(from.x - reach.aside_m * metre_px),
                                  static_cast<int>(from.y - reach.up_m * metre_px),
                                  static_cast<int>(2.0 * reach.aside_m * metre_px),
                                  static_cast<int>((reach.up_m + reach.down_m) * metre_px)) &
                         all;
    if (box.width < 6 || box.height < 6) return std::nullopt;
    const cv::Mat weight = weights(box.size()), begun = picture(0)(box).clone();
    cv::Mat looked_for = begun.clone();
    const int round = static_cast<int>(quickest_m * metre_px / 2.0) + 2;
    Way way;
    cv::Point2d going;
    for (std::size_t step = 1; step < pictures.size(); ++step) {
        const cv::Point2d next = way.moved + going;
        const cv::Rect where = cv::Rect(box.x + static_cast<int>(std::lround(next.x)) - round,
                                        box.y + static_cast<int>(std::lround(next.y)) - round,
                                        box.width + 2 * round, box.height + 2 * round) &
                               all;
        if (where.width <= box.width + 1 || where.height <= box.height + 1) return std::nullopt;
        cv::Mat off;
        cv::matchTemplate(picture(step)(where), looked_for, off, cv::TM_SQDIFF, weight);
        cv::Point least;
        cv::minMaxLoc(off, nullptr, nullptr, &least, nullptr);
        cv::Point2d found(where.x - box.x + least.x, where.y - box.y + least.y);
        const auto at = [&](int dx, int dy) { return off.at<float>(least.y + dy, least.x + dx); };
        if (least.x > 0 && least.x + 1 < off.cols) found.x += between(at(-1, 0), at(0, 0), at(1, 0));
        if (least.y > 0 && least.y + 1 < off.rows) found.y += between(at(0, -1), at(0, 0), at(0, 1));
        going = 0.5 * going + 0.5 * (found - way.moved);
        way.moved = found;
        const cv::Mat now = patch_at(picture(step), box, found);
        looked_for = (1.0 - newer_share) * looked_for + newer_share * now;
        if (step + 1 == pictures.size()) way.likeness = likeness_of(begun, now, weight);
    }
    return way;
}

std::optional<FollowedFigure> FigureFollower::followed() const {
    const Insides& in = *insides_;
    if (in.pictures.size() < 2) return std::nullopt;
    const auto there = in.along(in.place, false);
    if (!there) return std::nullopt;
    const auto back = in.along(in.place + there->moved, true);
    const auto from = in.ice(in.place), to = in.ice(in.place + there->moved);
    const auto again = back ? in.ice(in.place + there->moved + back->moved) : std::nullopt;
    if (!from || !to || !again) return std::nullopt;
    return FollowedFigure{*to - *from, there->likeness, distance(*again, *from)};
}

} // namespace ropeline
