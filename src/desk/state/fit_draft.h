// A rink fit in the making: the landmarks and curves clicked so far on one frame and what they give.
#pragma once

#include "camera/film_camera.h"
#include "camera/picture_view.h"
#include "depth/reason.h"
#include "desk/state/layout.h"
#include "season/records.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

/// What a fit in the making is known from.
enum class FitRestsOn { clicks, clicks_and_camera, paint };

struct FitDraft {
    Id stored_id; ///< of the fit being changed; empty for a new one
    std::int64_t frame = 0, pts_ticks = 0;
    RuleBookId rules = RuleBookId::nhl;
    ImageSize image;
    std::vector<StoredLandmark> clicks;
    std::vector<FilmCamera> cameras;     ///< known from the film's other fits
    std::string offered;                 ///< landmark or curve that the next click on the film places
    std::optional<double> offer_sigma_m; ///< how sure a depth is after that click, where that can be told
    std::string snapped;        ///< what laying the fit onto the paint gained; empty when it was not done
    std::optional<RinkFit> fit; ///< once the clicks carry one
    std::optional<RinkFit> proposed; ///< of the paint alone, for the coach to take or leave
    FitRestsOn rests_on = FitRestsOn::clicks;
    std::string trouble;   ///< why they do not, one line; empty when they do
    bool mirrored = false; ///< they would with left and right swapped
};

/// Offers the landmark or curve in the picture whose click would sharpen the depth most; nothing when none
/// would by a tenth.
FitDraft with_best_offer(FitDraft draft);
/// Places (or moves) the offered landmark, or adds a click on the offered curve, and offers the next.
FitDraft with_click(FitDraft draft, ImagePoint at);
FitDraft with_moved_click(FitDraft draft, std::size_t index, ImagePoint at);
FitDraft without_click(FitDraft draft, std::size_t index);
FitDraft with_offer(FitDraft draft, const std::string& name);
/// Each click on a landmark or curve of one side is on its fellow of the other.
FitDraft with_sides_swapped(FitDraft draft);
/// Offers the one after the one offered now: of those in the picture, the most useful first, or, before there is
/// a fit, of those a camera usually sees.
FitDraft with_other_offer(FitDraft draft);
/// The proposed fit taken, its landmarks in the picture placed where it has them.
FitDraft with_proposal_taken(FitDraft draft);
/// The fit moved onto the painted lines of the frame's picture; where that cannot be done `why_not` says so.
FitDraft snapped(FitDraft draft, const PictureView& picture, std::string& why_not);
/// Fit of the clicks, or the reason why there is none.
FitDraft refitted(FitDraft draft);

/// Landmark or curve of the plan under the cursor: a landmark within 0.8 of `unit`, else the nearest curve within
/// 0.6; nothing where neither lies there.
std::optional<std::string> pick_on_plan(const FitDraft& draft, const PlanView& plan, ScreenPoint at,
                                        float unit);
/// How many numbers the clicks fix, two a landmark and one a curve, and how many a fit needs: eight, or six on a film
/// whose camera is known.
std::size_t numbers_fixed(const FitDraft& draft);
std::size_t numbers_needed(const FitDraft& draft);
RinkClicks clicks_of(RuleBookId rules, std::span<const StoredLandmark> clicks);
/// How many clicks name that landmark or curve.
std::size_t clicks_on(const FitDraft& draft, std::string_view name);

/// "left post, inside" or "blue line, middle"; the name itself where the rule book has no such thing.
std::string label_of(const RuleBook& rules, const std::string& name);
/// A click minus where the fit puts its landmark, or minus the nearest place of its curve, in pixels; nothing
/// without a fit.
std::optional<ImagePoint> residual_of(const FitDraft& draft, std::size_t click);

/// How far the fit can be trusted.
struct FitQuality {
    enum class Grade { good, fair, poor } grade{};
    std::string words;                   ///< "good: 8 clicks agree within 0.6 px"
    std::optional<double> depth_sigma_m; ///< none: nothing says how sure a depth is
    std::string advice;                  ///< what there is to do; empty when nothing
};
FitQuality quality_of(const RinkFit& fit, FitRestsOn rests_on = FitRestsOn::clicks);
/// "good: 8 clicks agree within 0.6 px, a depth to ± 2.1 cm", with what there is to do behind it.
std::string words_of(const FitQuality& quality, LengthUnit unit);
/// What the offered click would gain: "takes the depth from ± 2.1 cm to ± 1.8 cm"; empty where that cannot be told.
std::string offer_words(const FitDraft& draft, LengthUnit unit);

} // namespace ropeline
