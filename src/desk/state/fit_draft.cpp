#include "desk/state/fit_draft.h"

#include "camera/fit_advice.h"
#include "camera/snap.h"
#include "rink/landmarks.h"
#include "rink/units.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <utility>

namespace ropeline {

namespace {

/// Well spread points that most cameras see and most eyes find, then lines, in the order offered.
constexpr std::array usual_offers = {
    "left_post",
    "right_post",
    "left_spot",
    "right_spot",
    "left_inner_hash_high",
    "right_inner_hash_high",
    "left_outer_hash_high",
    "right_outer_hash_high",
    "left_blue_line_low",
    "right_blue_line_low",
    "left_goal_line_end",
    "right_goal_line_end",
    "left_neutral_spot",
    "right_neutral_spot",
    "left_inner_hash_low",
    "right_inner_hash_low",
    "left_crease_foot",
    "right_crease_foot",
    "blue_line",
    "left_circle",
    "right_circle",
    "crease",
    "goal_line",
    "boards",
};

/// Landmarks are clicked once, curves as often as one likes.
bool is_open(const FitDraft& draft, std::string_view name) {
    const RuleBook& rules = rule_book(draft.rules);
    return find_curve(rules, name) || (find_landmark(rules, name) && clicks_on(draft, name) == 0);
}

RinkClicks clicks_of(const FitDraft& draft) {
    return clicks_of(draft.rules, draft.clicks);
}

/// The fit of the first of the film's cameras that sees the clicks.
std::optional<RinkFit> fit_of_known_camera(const FitDraft& draft, const RinkClicks& clicks) {
    for (const FilmCamera& camera : draft.cameras) {
        if (auto fit = fit_of_film_camera(clicks, draft.image, camera)) return fit;
    }
    return std::nullopt;
}

std::vector<NextClick> offers_in_picture(const FitDraft& draft) {
    std::vector<IcePoint> clicked;
    for (const StoredLandmark& click : draft.clicks) {
        const auto place = click.point ? click.point : ice_at(*draft.fit, click.at);
        if (place) clicked.push_back(*place);
    }
    const RuleBook& rules = rule_book(draft.rules);
    std::vector<NextClick> offers = next_clicks(*draft.fit, clicked, rules);
    std::erase_if(offers, [&](const NextClick& offer) { // nobody can see those in the picture
        const auto landmark = find_landmark(rules, offer.name);
        return landmark && !landmark->marked;
    });
    return offers;
}

FitDraft with_offer(FitDraft draft, const NextClick& offer) {
    draft.offered = offer.name;
    draft.offer_sigma_m = offer.sigma_then_m;
    return draft;
}

/// So fine that a tenth less is seen.
std::string fine_spread(double sigma_m, LengthUnit unit) {
    if (unit == LengthUnit::feet) return fmt::format("± {:.2f} in", sigma_m / from_inches(1.0));
    return fmt::format("± {:.1f} cm", 100.0 * sigma_m);
}

} // namespace

RinkClicks clicks_of(RuleBookId id, std::span<const StoredLandmark> clicked) {
    RinkClicks clicks;
    const RuleBook& rules = rule_book(id);
    for (const StoredLandmark& click : clicked) {
        if (click.point) {
            const auto landmark = find_landmark(rules, click.name);
            clicks.points.push_back(
                {click.at, *click.point, label_of(rules, click.name), landmark && landmark->at_boards});
        } else if (const auto curve = find_curve(rules, click.name)) {
            clicks.curves.push_back({click.at, *curve});
        }
    }
    return clicks;
}

std::size_t numbers_needed(const FitDraft& draft) {
    return draft.cameras.empty() ? 8 : 6;
}

std::size_t numbers_fixed(const FitDraft& draft) {
    std::size_t numbers = 0;
    for (const StoredLandmark& click : draft.clicks)
        numbers += click.point ? 2 : 1;
    return numbers;
}

std::size_t clicks_on(const FitDraft& draft, std::string_view name) {
    return static_cast<std::size_t>(std::ranges::count(draft.clicks, name, &StoredLandmark::name));
}

std::optional<std::string> pick_on_plan(const FitDraft& draft, const PlanView& plan, ScreenPoint at,
                                        float unit) {
    if (!plan.panel.holds(at)) return std::nullopt;
    const RuleBook& rules = rule_book(draft.rules);
    std::optional<std::string> nearest;
    double least_m = 0.8 * unit / plan.scale();
    const IcePoint place = plan.to_ice(at);
    for (const Landmark& landmark : landmarks(rules)) {
        const double away_m = distance(landmark.at, place);
        if (away_m >= least_m) continue;
        least_m = away_m;
        nearest = landmark.name;
    }
    if (nearest) return nearest;
    least_m = 0.6 * unit / plan.scale();
    for (const IceCurve& curve : ice_curves(rules)) {
        const double away_m = distance_m(curve, place);
        if (away_m >= least_m) continue;
        least_m = away_m;
        nearest = curve.name;
    }
    return nearest;
}

std::string label_of(const RuleBook& rules, const std::string& name) {
    if (const auto landmark = find_landmark(rules, name)) return landmark->label;
    if (const auto curve = find_curve(rules, name)) return curve->label;
    return name;
}

std::optional<ImagePoint> residual_of(const FitDraft& draft, std::size_t click) {
    if (!draft.fit || click >= draft.clicks.size()) return std::nullopt;
    const bool on_curve = !draft.clicks[click].point;
    const auto before =
        std::count_if(draft.clicks.begin(), draft.clicks.begin() + static_cast<std::ptrdiff_t>(click),
                      [&](const StoredLandmark& one) { return !one.point == on_curve; });
    const auto& residuals = on_curve ? draft.fit->curve_residuals : draft.fit->residuals;
    const auto index = static_cast<std::size_t>(before);
    return index < residuals.size() ? std::optional{residuals[index]} : std::nullopt;
}

FitDraft with_sides_swapped(FitDraft draft) {
    const RuleBook& rules = rule_book(draft.rules);
    const auto other_side = [](const std::string& name) {
        if (name.starts_with("left_")) return "right_" + name.substr(5);
        return name.starts_with("right_") ? "left_" + name.substr(6) : name;
    };
    for (StoredLandmark& click : draft.clicks) {
        click.name = other_side(click.name);
        if (const auto landmark = find_landmark(rules, click.name); landmark && click.point)
            click.point = landmark->at;
    }
    draft.offered = other_side(draft.offered);
    return with_best_offer(refitted(std::move(draft)));
}

FitDraft refitted(FitDraft draft) {
    draft.fit.reset();
    draft.offer_sigma_m.reset();
    draft.mirrored = false;
    draft.trouble.clear();
    draft.snapped.clear();
    const RinkClicks clicks = clicks_of(draft);
    const std::size_t numbers = numbers_fixed(draft);
    draft.fit = fit_of_known_camera(draft, clicks);
    // Landmarks that the paint placed were not clicked, though one of them was dragged.
    if (draft.rests_on != FitRestsOn::paint || draft.clicks.empty())
        draft.rests_on = draft.fit ? FitRestsOn::clicks_and_camera : FitRestsOn::clicks;
    if (draft.fit) return draft;
    if (numbers < 8) {
        const std::size_t needed = numbers < numbers_needed(draft) ? numbers_needed(draft) : 8;
        const std::size_t left = (needed + 1 - numbers) / 2;
        draft.trouble = fmt::format("{}{} more landmark{} to click. Two clicks on lines stand for one.",
                                    needed > numbers_needed(draft)
                                        ? "The camera of the film's other fits does not see these clicks so. "
                                        : "",
                                    left, left == 1 ? "" : "s");
        return draft;
    }
    try {
        draft.fit = fit_rink(clicks, draft.image, {.lens = LensChoice::automatic});
        std::vector<NamedClick> named;
        for (const StoredLandmark& click : draft.clicks) {
            if (click.point) named.push_back({click.at, click.name});
        }
        if (const auto better = better_rule_book(named, draft.rules, draft.image)) {
            draft.fit->warnings.push_back(
                fmt::format("These clicks suit an {} rink better than an {} one: check the "
                            "season's rule book.",
                            rule_book(*better).name, rule_book(draft.rules).name));
        }
    } catch (const FitError& error) {
        draft.trouble = error.what();
        draft.mirrored = error.fault == FitFault::mirrored;
    }
    return draft;
}

FitDraft with_other_offer(FitDraft draft) {
    draft.offer_sigma_m.reset();
    if (draft.fit) {
        const std::vector<NextClick> offers = offers_in_picture(draft);
        if (!offers.empty()) {
            const auto now = std::ranges::find(offers, draft.offered, &NextClick::name);
            const bool last = now == offers.end() || now + 1 == offers.end();
            return with_offer(std::move(draft), last ? offers.front() : *(now + 1));
        }
    }
    const auto* const now = std::ranges::find(usual_offers, draft.offered);
    const std::size_t start =
        now == usual_offers.end() ? 0 : static_cast<std::size_t>(now - usual_offers.begin()) + 1;
    for (std::size_t step = 0; step < usual_offers.size(); ++step) {
        const char* name = usual_offers.at((start + step) % usual_offers.size());
        if (is_open(draft, name)) {
            draft.offered = name;
            return draft;
        }
    }
    draft.offered.clear();
    return draft;
}

FitDraft with_best_offer(FitDraft draft) {
    draft.offer_sigma_m.reset();
    if (!draft.fit) return with_other_offer(std::move(draft));
    const double sigma_now_m = depth_sigma_before_net_m(*draft.fit);
    const std::vector<NextClick> offers = offers_in_picture(draft);
    if (!offers.empty() && worth_a_click(sigma_now_m, offers.front()))
        return with_offer(std::move(draft), offers.front());
    draft.offered.clear();
    return draft;
}

FitDraft with_click(FitDraft draft, ImagePoint at) {
    const RuleBook& rules = rule_book(draft.rules);
    if (find_curve(rules, draft.offered)) {
        draft.clicks.push_back({draft.offered, at, std::nullopt});
    } else if (const auto landmark = find_landmark(rules, draft.offered)) {
        const auto same = std::ranges::find(draft.clicks, draft.offered, &StoredLandmark::name);
        if (same != draft.clicks.end()) {
            same->at = at;
        } else {
            draft.clicks.push_back({landmark->name, at, landmark->at});
        }
    } else {
        return draft;
    }
    return with_best_offer(refitted(std::move(draft)));
}

FitDraft with_moved_click(FitDraft draft, std::size_t index, ImagePoint at) {
    if (index >= draft.clicks.size()) return draft;
    draft.clicks[index].at = at;
    draft = refitted(std::move(draft));
    if (!draft.fit || draft.offered.empty()) return draft;
    const std::vector<NextClick> offers = offers_in_picture(draft);
    const auto offer = std::ranges::find(offers, draft.offered, &NextClick::name);
    draft.offer_sigma_m.reset();
    if (offer == offers.end()) return draft;
    return with_offer(std::move(draft), *offer);
}

FitDraft without_click(FitDraft draft, std::size_t index) {
    if (index >= draft.clicks.size()) return draft;
    draft.offered = draft.clicks[index].name;
    draft.clicks.erase(draft.clicks.begin() + static_cast<std::ptrdiff_t>(index));
    return refitted(std::move(draft));
}

FitDraft with_offer(FitDraft draft, const std::string& name) {
    const RuleBook& rules = rule_book(draft.rules);
    if (find_landmark(rules, name) || find_curve(rules, name)) {
        draft.offered = name;
        draft.offer_sigma_m.reset();
    }
    return draft;
}

FitDraft snapped(FitDraft draft, const PictureView& picture, std::string& why_not) {
    if (!draft.fit) {
        why_not = "Click until there is a fit first; then it can be laid onto the paint.";
        return draft;
    }
    const auto snap = snap_to_paint(*draft.fit, rule_book(draft.rules), picture, why_not);
    if (!snap) return draft;
    RinkFit fit = snap->fit;
    fit.warnings = draft.fit->warnings;
    tell_residuals(clicks_of(draft), fit);
    draft.fit = std::move(fit);
    draft.offer_sigma_m.reset();
    draft.snapped =
        fmt::format("laid onto the paint: {} stretches of line, off by {:.1f} px before and {:.1f} px now",
                    snap->lines_found, snap->before_px, snap->after_px);
    return draft;
}

FitDraft with_proposal_taken(FitDraft draft) {
    if (!draft.proposed) return draft;
    constexpr std::size_t enough = 9;
    constexpr double margin_px = 4.0;
    const RuleBook& rules = rule_book(draft.rules);
    draft.clicks.clear();
    for (const char* name : usual_offers) {
        const auto landmark = find_landmark(rules, name);
        const auto at = landmark ? image_at(*draft.proposed, landmark->at) : std::nullopt;
        if (!at || draft.clicks.size() == enough || at->x_px < margin_px || at->y_px < margin_px ||
            at->x_px > draft.image.width_px - margin_px || at->y_px > draft.image.height_px - margin_px)
            continue;
        draft.clicks.push_back({landmark->name, *at, landmark->at});
    }
    draft.fit = std::exchange(draft.proposed, std::nullopt);
    draft.rests_on = FitRestsOn::paint; // nobody clicked those: they say nothing of how far off it is
    draft.fit->residuals.clear();
    draft.fit->curve_residuals.clear();
    draft.trouble.clear();
    draft.snapped = "taken from the paint: the landmarks are where it has them, drag what lies off";
    return with_best_offer(std::move(draft));
}

FitQuality quality_of(const RinkFit& fit, FitRestsOn rests_on) {
    constexpr double good_px = 2.0, fair_px = 5.0;
    constexpr double good_m = 0.05, fair_m = 0.15; // a depth within 0.30 m of the advised one is right
    const double sigma_m = depth_sigma_before_net_m(fit);
    if (rests_on == FitRestsOn::paint) {
        return {FitQuality::Grade::fair, "from the paint", sigma_m,
                "look whether every line lies on its own"};
    }
    const bool of_known_camera = rests_on == FitRestsOn::clicks_and_camera;
    const std::size_t clicks = fit.residuals.size() + fit.curve_residuals.size();
    if (clicks + fit.residuals.size() <= (of_known_camera ? 4U : 8U)) {
        return {FitQuality::Grade::poor, "unchecked: so few clicks always fit", std::nullopt,
                "one more shows whether they agree"};
    }
    const auto left_out = static_cast<std::size_t>(std::ranges::count_if(
        fit.warnings, [](const std::string& warning) { return warning.ends_with("the fit leaves it out"); }));
    const std::string count =
        left_out == 0 ? std::to_string(clicks) : fmt::format("{} of {}", clicks - left_out, clicks);
    const std::string figures = fmt::format("{} clicks{} agree within {:.1f} px", count,
                                            of_known_camera ? " and the film's other fits" : "", fit.rms_px);
    if (fit.rms_px <= good_px && sigma_m <= good_m)
        return {FitQuality::Grade::good, "good: " + figures, sigma_m, {}};
    if (fit.rms_px <= fair_px && sigma_m <= fair_m)
        return {FitQuality::Grade::fair, "fair: " + figures, sigma_m, {}};
    return {FitQuality::Grade::poor, "poor: " + figures, sigma_m,
            fit.rms_px > fair_px ? "look at the longest arrow" : "click nearer the net or wider apart"};
}

std::string words_of(const FitQuality& quality, LengthUnit unit) {
    std::string words = quality.words;
    if (quality.depth_sigma_m) words += ", a depth to " + fine_spread(*quality.depth_sigma_m, unit);
    return quality.advice.empty() ? words : words + "; " + quality.advice;
}

std::string offer_words(const FitDraft& draft, LengthUnit unit) {
    if (!draft.fit) return {};
    if (draft.offered.empty()) return "no further click in this picture would sharpen the depth by a tenth";
    if (!draft.offer_sigma_m) return {};
    return fmt::format("takes the depth from {} to {}",
                       fine_spread(depth_sigma_before_net_m(*draft.fit), unit),
                       fine_spread(*draft.offer_sigma_m, unit));
}

} // namespace ropeline
