#include "camera/carry.h"

#include "camera/film_light.h"
#include "camera/grey.h"
#include "camera/key_views.h"
#include "camera/paint_ridges.h"
#include "camera/paint_update.h"
#include "camera/refind.h"
#include "camera/sight.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace ropeline {
namespace {

constexpr double new_view_at = 0.22; // of the picture, or change of zoom, before another view serves
constexpr double same_view_within = 0.12;
constexpr std::size_t most_views = 40;
constexpr std::size_t worn_out = 60; // features that agree; below, another view is taken
constexpr int fewest_stretches = 20; // of painted line that make an anchor
constexpr double least_share = 0.4;  // of the features that agree; below, the same
constexpr double held_sigma_m = 0.09, unsure_sigma_m = 0.5;
constexpr int most_missed = 12;     // frames that say nothing and yet are no cut: a player close by
constexpr int most_unanchored = 25; // frames that are followed by features alone and still called held
constexpr int rest_of_search = 2;   // frames between searches that found nothing
constexpr std::size_t views_a_search = 4;
constexpr double least_likeness = 0.2; // of what may be the same scene
constexpr double walk_m = 0.15;    // how far a walking camera may go from its view before another is taken
constexpr int walking_frames = 45; // how long a camera that was seen to walk is taken to walk
constexpr int standing_frames = 5; // and one that was seen to stand, to stand

} // namespace

std::string_view key_of(CarryState state) {
    constexpr std::array<std::string_view, 3> keys{"held", "unsure", "lost"};
    return keys.at(static_cast<std::size_t>(state));
}

struct Carrier::Insides {
    CarryOptions options;
    std::vector<PaintSample> samples;
    std::vector<KeyView> views;
    std::size_t current = 0;
    std::vector<cv::Mat> pyramid; ///< of the current view
    CameraBelief belief;
    FeatureTrust trust;
    Eigen::Matrix3d turn_a_frame = Eigen::Matrix3d::Identity();
    double zoom_a_frame = 1.0;
    FilmLight light;
    int walking = 0;    ///< frames for which the camera's place is not taken as known
    int standing = 0;   ///< frames for which it is not asked again whether the camera walks
    int missed = 0;     ///< frames since one was followed
    int unanchored = 0; ///< frames since paint was found
    int searched = 0;   ///< frames until paint is searched for widely again
    bool lost = false;
    int lost_for = 0,
        resting = 0;       ///< frames since it is lost or a shot began, and until it is searched for again
    std::size_t tried = 0; ///< which view is tried next while lost

    /// A frame in the light of those before it, and whether another shot begins with it.
    struct Arrival {
        GreyFrame frame;
        bool cut = false;
        std::optional<RidgeMap> ridges;
    };

    Arrival arrive(const PictureView& picture) {
        FilmLight::Arrived arrived = light.arrive(grey_of(picture));
        if (arrived.dimmed) {
            for (KeyView& view : views)
                view.grey = as_bright_as(view.grey, arrived.before, arrived.after);
            pyramid.clear();
        }
        return {{std::move(arrived.grey), {}}, arrived.cut, std::nullopt};
    }

    void use_view(std::size_t index) {
        if (index != current) pyramid.clear();
        current = index;
    }

    std::optional<std::size_t> nearest_view(std::size_t besides) const {
        std::optional<std::size_t> nearest;
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < views.size(); ++i) {
            const double apart = view_distance(views[i].belief.camera, belief.camera);
            if (i == besides || views[i].points.size() < worn_out || apart >= least) continue;
            least = apart;
            nearest = i;
        }
        return nearest;
    }

    bool walked_off() const {
        return walking > 0 && (views[current].belief.camera.place_m - belief.camera.place_m).norm() > walk_m;
    }

    /// Another stored view if one lies near, else a new one of this frame.
    void choose_view(const cv::Mat& grey, bool on_paint, const Tracked& tracked) {
        const double apart = view_distance(views[current].belief.camera, belief.camera);
        const auto features = static_cast<std::size_t>(tracked.features);
        const bool worn = features < worn_out || tracked.share < least_share, walked = walked_off();
        if (apart < new_view_at && !worn && !walked) return;
        if (!worn && !walked) {
            const std::optional<std::size_t> nearest = nearest_view(current);
            if (nearest && view_distance(views[*nearest].belief.camera, belief.camera) < same_view_within) {
                use_view(*nearest);
                return;
            }
        }
        // A view that is taken must be good: without paint wait until the old one is nearly out of sight or
        // worn.
        const bool pressing =
            apart > 1.8 * new_view_at || features < worn_out * 3 / 4 || tracked.share < least_share;
        if (options.use_paint && !on_paint && !pressing) return;
        KeyView fresh = key_view(grey, belief, on_paint, trust);
        pyramid.clear();
        if ((worn || walked) && apart < same_view_within &&
            current > 0) { // the old one shows the same and is of no more use
            views[current] = std::move(fresh);
            return;
        }
        if (views.size() >= most_views) views.erase(views.begin() + 1); // the first is the fitted one
        views.push_back(std::move(fresh));
        current = views.size() - 1;
    }

    CarriedFrame answer(CarryState state, const PaintUpdate& paint, int features, double track_rms_px) const {
        CarriedFrame frame;
        frame.state = state;
        frame.fit = fit_of(belief);
        frame.sigma_m = widen_to_paint(frame.fit);
        frame.paint_agreed = paint.agreed;
        frame.paint_expected = paint.expected;
        frame.features = features;
        frame.rms_px = paint.agreed >= fewest_stretches ? paint.rms_px : track_rms_px;
        frame.fit.rms_px = frame.rms_px;
        return frame;
    }

    CarriedFrame gone() {
        if (lost) {
            turn_a_frame.setIdentity();
            zoom_a_frame = 1.0;
        }
        return answer(CarryState::lost, PaintUpdate{belief}, 0, 0.0);
    }

    PaintUpdate on_paint(const CameraBelief& predicted, const PictureView& picture, double reach_px) const {
        if (!options.use_paint) return PaintUpdate{predicted};
        return update_by_paint(predicted, samples, picture, reach_px);
    }

    /// The same for a camera that may have left its place: when the paint then agrees clearly better, it has.
    PaintUpdate on_paint_or_walked(const CameraBelief& predicted, const PictureView& picture,
                                   double reach_px) {
        PaintUpdate here;
        if (walking == 0) {
            here = on_paint(predicted, picture, reach_px);
            standing = std::max(0, standing - 1);
            if (here.agreed < fewest_stretches || misfit(here) < 1.0 || standing > 0) return here;
        }
        CameraBelief loose = predicted;
        const double turn = walk_m / 15.0; // what such a step turns the view by, at the distance of a rink
        loose.spread.diagonal().head<3>().array() += turn * turn;
        loose.spread(3, 3) += 0.01 * 0.01;
        loose.spread.diagonal().segment<3>(4).array() += walk_m * walk_m;
        const PaintUpdate walked = on_paint(loose, picture, reach_px);
        if (walking > 0) {
            --walking;
            return walked;
        }
        if (anchors(walked) && misfit(walked) < 0.6 * misfit(here)) {
            walking = walking_frames;
            return walked;
        }
        standing = standing_frames;
        return here;
    }

    /// Too few features: where the camera was heading, if the painted lines lie there all the same.
    std::optional<Tracked> by_paint_alone(const TurningCamera& guess, const PictureView& picture) const {
        CameraBelief heading{guess, belief.spread};
        for (int k = 0; k < 4; ++k)
            heading.spread(k, k) += std::pow(k < 3 ? 6.0 / guess.focal_px : 0.01, 2);
        const PaintUpdate paint = on_paint(heading, picture, 10.0);
        if (paint.agreed < 60 || paint.agreed * 2 < paint.expected || paint.rms_px > 1.5) return std::nullopt;
        Tracked found;
        found.belief = paint.belief;
        return found;
    }

    std::optional<PaintUpdate> by_wide_search(const CameraBelief& guess, Arrival& now,
                                              const PictureView& picture, const WideReach& reach) {
        if (!options.use_paint || searched > 0) return std::nullopt;
        if (!now.ridges) now.ridges = ridge_map(now.frame.grey);
        const std::optional<PaintUpdate> found = search_wide(guess, samples, *now.ridges, picture, reach);
        if (!found) searched = rest_of_search;
        return found;
    }

    /// Where the camera goes if it turns and zooms on as it did.
    TurningCamera heading() const {
        TurningCamera guess = belief.camera;
        guess.camera_from_world = turn_a_frame * guess.camera_from_world;
        guess.focal_px *= zoom_a_frame;
        return moved(guess,
                     CameraStep::Zero()); // a rotation again, to the last digit
    }

    /// The camera that paint suggests, where features of the current view agree: both ends are painted alike.
    std::optional<Tracked> confirmed(const std::optional<PaintUpdate>& by_paint, Arrival& now) {
        if (!by_paint) return std::nullopt;
        return track(views[current], pyramid, now.frame, by_paint->belief.camera);
    }

    std::optional<Tracked> followed(Arrival& now, const PictureView& picture) {
        const TurningCamera guess = heading();
        std::optional<Tracked> tracked = track(views[current], pyramid, now.frame, guess);
        const std::optional<std::size_t> other = tracked || now.cut ? std::nullopt : nearest_view(current);
        if (other) {
            use_view(*other);
            tracked = track(views[current], pyramid, now.frame, guess);
        }
        if (tracked && now.cut && tracked->share < 0.6) tracked.reset();
        if (tracked || now.cut) return tracked;
        tracked = by_paint_alone(guess, picture);
        if (tracked) return tracked;
        return confirmed(by_wide_search({guess, belief.spread}, now, picture, {}), now);
    }

    /// How many frames to leave out after a search that found nothing.
    int rest() const { return lost_for < 12 ? 1 : lost_for < 60 ? 3 : 5; }

    /// While lost: the view that looks most like the frame, of the next few, and the painted lines about what it
    /// shows. The longer it is lost the less often, but always where a shot begins.
    std::optional<Tracked> found_again(Arrival& now, const PictureView& picture) {
        if (now.cut) lost_for = resting = searched = 0;
        ++lost_for;
        if (resting-- > 0) return std::nullopt;
        resting = rest();
        Likely likely;
        std::size_t likeliest = current;
        for (std::size_t i = 0; i < std::min(views.size(), views_a_search); ++i) {
            tried = (tried + 1) % views.size();
            const Likely other = likely_camera(views[tried], now.frame.grey);
            if (i > 0 && other.likeness <= likely.likeness) continue;
            likely = other;
            likeliest = tried;
        }
        if (likely.likeness < least_likeness) return std::nullopt;
        use_view(likeliest);
        std::optional<Tracked> tracked = track(views[current], pyramid, now.frame, likely.camera);
        // Other shots of white ice can fool a few features: ask for more of them here.
        if (tracked && (tracked->features < 40 || tracked->share < 0.4)) tracked.reset();
        if (tracked) return tracked;
        const CameraBelief about{likely.camera, views[current].belief.spread};
        return confirmed(by_wide_search(about, now, picture, {150.0, 0.12, 0.1}), now);
    }

    bool anchors(const PaintUpdate& paint) const {
        return paint.agreed >= fewest_stretches && paint.agreed * 4 >= paint.expected;
    }

    /// Is paint that should be in plain sight missing?
    bool contradicted(const PaintUpdate& paint) const {
        return paint.expected >= 40 && paint.agreed * 5 < paint.expected;
    }
    /// Is more of it missing than players cover?
    bool doubted(const PaintUpdate& paint) const {
        return paint.expected >= 40 && paint.agreed * 5 < paint.expected * 2;
    }

    /// What the paint says of a tracked frame; where little of it is met, of the
    /// camera that meets most of it nearby.
    PaintUpdate anchored_to(const Tracked& tracked, bool again, Arrival& now, const PictureView& picture) {
        PaintUpdate paint = on_paint_or_walked(tracked.belief, picture, again ? 10.0 : 6.0);
        if (again || now.cut || paint.expected < 40 || (anchors(paint) && !doubted(paint))) return paint;
        const auto wide = by_wide_search(tracked.belief, now, picture, {56.0, 0.04, 0.3});
        return wide && wide->agreed > paint.agreed ? *wide : paint;
    }

    CarriedFrame told(const Tracked& tracked, const PaintUpdate& paint) const {
        const bool anchored = anchors(paint);
        CarriedFrame frame = answer(CarryState::held, paint, tracked.features, tracked.rms_px);
        const bool shaky = !(frame.sigma_m < held_sigma_m) || (!anchored && tracked.features < 40) ||
                           doubted(paint) || (anchored && paint.rms_px > 2.6) ||
                           (options.use_paint && unanchored > most_unanchored);
        if (shaky) frame.state = frame.sigma_m < unsure_sigma_m ? CarryState::unsure : CarryState::lost;
        return frame;
    }

    /// Takes over what a frame said, after it was tracked.
    void take(const Tracked& tracked, const PaintUpdate& paint, bool again, const cv::Mat& grey) {
        const bool anchored = anchors(paint);
        if (anchored || !options.use_paint)
            weed(views[current], tracked.seen, anchored ? paint.belief.camera : tracked.belief.camera, trust);
        const CameraBelief before = belief;
        belief = anchored ? paint.belief : tracked.belief;
        unanchored = anchored ? 0 : unanchored + 1;
        if (again) {
            lost = false;
            lost_for = resting = 0;
        } else {
            turn_a_frame = belief.camera.camera_from_world * before.camera.camera_from_world.transpose();
            zoom_a_frame = std::clamp(belief.camera.focal_px / before.camera.focal_px, 0.9, 1.1);
        }
        missed = 0;
        choose_view(grey, anchored, tracked);
    }
};

Carrier::Carrier(const RinkFit& fit, const RuleBook& rules, const CarryOptions& options)
    : insides_(std::make_unique<Insides>()) {
    const std::optional<CameraBelief> belief = turning_camera_of(fit, 8.0);
    if (!belief) {
        throw FitError(FitFault::not_invertible, "this fit is not what a camera with square pixels sees from "
                                                 "above the ice, so it cannot be carried; check its clicks");
    }
    insides_->options = options;
    insides_->belief = *belief;
    if (options.use_paint) insides_->samples = paint_samples(rules);
}

Carrier::~Carrier() = default;
Carrier::Carrier(Carrier&&) noexcept = default;
Carrier& Carrier::operator=(Carrier&&) noexcept = default;

CarriedFrame Carrier::start(const PictureView& picture) {
    Insides& in = *insides_;
    const cv::Mat grey = grey_of(picture);
    in.light.start(grey);
    const PaintUpdate paint =
        in.options.use_paint ? settle_on_paint(in.belief, in.samples, picture, 12.0) : PaintUpdate{in.belief};
    const bool anchored = in.anchors(paint);
    if (anchored) in.belief = paint.belief;
    in.views.assign(1, key_view(grey, in.belief, anchored));
    in.use_view(0);
    in.pyramid.clear();
    return in.answer(CarryState::held, paint, static_cast<int>(in.views[0].points.size()), 0.0);
}

CarriedFrame Carrier::next(const PictureView& picture) {
    Insides& in = *insides_;
    Insides::Arrival now = in.arrive(picture);
    in.searched = std::max(0, in.searched - 1);
    std::optional<Tracked> tracked;
    if (!in.lost) {
        tracked = in.followed(now, picture);
        if (!tracked && !now.cut && ++in.missed <= most_missed) {
            in.belief.camera = in.heading();
            return in.gone();
        }
        in.lost = !tracked;
    }
    const bool again = in.lost;
    if (again) tracked = in.found_again(now, picture);
    if (!tracked) return in.gone();
    const PaintUpdate paint = in.anchored_to(*tracked, again, now, picture);
    if (again && in.contradicted(paint)) return in.gone();
    in.take(*tracked, paint, again, now.frame.grey);
    return in.told(*tracked, paint);
}

} // namespace ropeline
