#include "desk/state/fit_draft.h"

#include "camera/fit_advice.h"
#include "camera/snap.h"
#include "rink/landmarks.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace ropeline {

namespace {

/// Well spread points that most cameras see and most eyes find, in the order offered.
constexpr std::array usual_landmarks = {
    "left_post",           "right_post",         "left_spot",           "right_spot",
    "crease_top",          "left_circle_high",   "right_circle_high",   "left_circle_inner",
    "right_circle_inner",  "left_circle_outer",  "right_circle_outer",  "left_blue_line_low",
    "right_blue_line_low", "left_goal_line_end", "right_goal_line_end", "left_circle_low",
    "right_circle_low",    "left_neutral_spot",  "right_neutral_spot",
};

bool is_clicked(const FitDraft& draft, std::string_view name) {
    return std::ranges::any_of(draft.clicks, [&](const StoredLandmark& click) { return click.name == name; });
}

} // namespace

FitDraft refitted(FitDraft draft) {
    draft.fit.reset();
    draft.trouble.clear();
    draft.snapped.clear();
    std::vector<LandmarkClick> clicks;
    for (const StoredLandmark& click : draft.clicks) {
        const auto landmark = find_landmark(rule_book(draft.rules), click.name);
        clicks.push_back({click.at, click.point, landmark ? landmark->label : click.name});
    }
    if (clicks.size() < 4) {
        const auto left = 4 - clicks.size();
        draft.trouble = fmt::format("{} more landmark{} to click.", left, left == 1 ? "" : "s");
        return draft;
    }
    try {
        draft.fit = fit_rink(clicks, draft.image, {.lens = LensChoice::automatic});
        std::vector<NamedClick> named;
        for (const StoredLandmark& click : draft.clicks)
            named.push_back({click.at, click.name});
        if (const auto better = better_rule_book(named, draft.rules, draft.image)) {
            draft.fit->warnings.push_back(
                fmt::format("These clicks suit an {} rink better than an {} one: check the "
                            "season's rule book.",
                            rule_book(*better).name, rule_book(draft.rules).name));
        }
    } catch (const FitError& error) {
        draft.trouble = error.what();
    }
    return draft;
}

FitDraft with_other_offer(FitDraft draft) {
    draft.offer_reason.clear();
    const auto* const now = std::ranges::find(usual_landmarks, draft.offered);
    const std::size_t start =
        now == usual_landmarks.end() ? 0 : static_cast<std::size_t>(now - usual_landmarks.begin()) + 1;
    for (std::size_t step = 0; step < usual_landmarks.size(); ++step) {
        const char* name = usual_landmarks.at((start + step) % usual_landmarks.size());
        if (!is_clicked(draft, name) && find_landmark(rule_book(draft.rules), name)) {
            draft.offered = name;
            return draft;
        }
    }
    draft.offered.clear();
    return draft;
}

FitDraft with_best_offer(FitDraft draft) {
    draft.offer_reason.clear();
    if (!draft.fit) return with_other_offer(std::move(draft));
    std::vector<IcePoint> clicked;
    for (const StoredLandmark& click : draft.clicks)
        clicked.push_back(click.point);
    const auto best = next_landmark(*draft.fit, clicked, rule_book(draft.rules));
    if (!best) {
        draft.offered.clear();
        draft.offer_reason = "no further click in this picture would sharpen the depth by a tenth";
        return draft;
    }
    draft.offered = best->mark.name;
    draft.offer_reason = fmt::format("takes the depth from ± {:.1f} to ± {:.1f} cm",
                                     100.0 * best->sigma_now_m, 100.0 * best->sigma_then_m);
    return draft;
}

FitDraft with_click(FitDraft draft, ImagePoint at) {
    const auto landmark = find_landmark(rule_book(draft.rules), draft.offered);
    if (!landmark) return draft;
    const auto same = std::ranges::find(draft.clicks, draft.offered, &StoredLandmark::name);
    if (same != draft.clicks.end()) {
        same->at = at;
    } else {
        draft.clicks.push_back({landmark->name, at, landmark->at});
    }
    return with_best_offer(refitted(std::move(draft)));
}

FitDraft with_moved_click(FitDraft draft, std::size_t index, ImagePoint at) {
    if (index >= draft.clicks.size()) return draft;
    draft.clicks[index].at = at;
    return refitted(std::move(draft));
}

FitDraft without_click(FitDraft draft, std::size_t index) {
    if (index >= draft.clicks.size()) return draft;
    draft.offered = draft.clicks[index].name;
    draft.clicks.erase(draft.clicks.begin() + static_cast<std::ptrdiff_t>(index));
    return refitted(std::move(draft));
}

FitDraft with_offer(FitDraft draft, const std::string& name) {
    if (find_landmark(rule_book(draft.rules), name)) {
        draft.offered = name;
        draft.offer_reason.clear();
    }
    return draft;
}

FitDraft snapped(FitDraft draft, const PictureView& picture, std::string& why_not) {
    if (!draft.fit) {
        why_not = "Click at least four landmarks first; then the fit can be laid onto the paint.";
        return draft;
    }
    const auto snap = snap_to_paint(*draft.fit, rule_book(draft.rules), picture, why_not);
    if (!snap) return draft;
    RinkFit fit = snap->fit;
    fit.residuals.clear();
    for (const StoredLandmark& click : draft.clicks) {
        const auto seen = image_at(fit, click.point);
        fit.residuals.push_back(seen ? ImagePoint{click.at.x_px - seen->x_px, click.at.y_px - seen->y_px}
                                     : ImagePoint{});
    }
    draft.fit = std::move(fit);
    draft.snapped =
        fmt::format("laid onto the paint: {} stretches of line, off by {:.1f} px before and {:.1f} px now",
                    snap->lines_found, snap->before_px, snap->after_px);
    return draft;
}

FitQuality quality_of(const RinkFit& fit, std::size_t clicks) {
    if (clicks == 4) {
        return {FitQuality::Grade::poor,
                "unchecked: four clicks always fit; one more shows whether they agree"};
    }
    const std::string figures = fmt::format("{} clicks agree within {:.1f} px", clicks, fit.rms_px);
    if (fit.rms_px <= 2.0) return {FitQuality::Grade::good, "good: " + figures};
    if (fit.rms_px <= 5.0) return {FitQuality::Grade::fair, "fair: " + figures};
    return {FitQuality::Grade::poor, "poor: " + figures + "; look at the longest arrow"};
}

} // namespace ropeline
