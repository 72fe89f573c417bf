// A rink fit in the making: the landmarks clicked so far on one frame and what they give.
#pragma once

#include "camera/picture_view.h"
#include "season/records.h"

#include <optional>
#include <string>
#include <vector>

namespace ropeline {

struct FitDraft {
    Id stored_id; ///< of the fit being changed; empty for a new one
    std::int64_t frame = 0, pts_ticks = 0;
    RuleBookId rules = RuleBookId::nhl;
    ImageSize image;
    std::vector<StoredLandmark> clicks;
    std::string offered;        ///< landmark that the next click on the film places
    std::string offer_reason;   ///< what its click would gain, where that can be told
    std::string snapped;        ///< what laying the fit onto the paint gained; empty when it was not done
    std::optional<RinkFit> fit; ///< once the clicks carry one
    std::string trouble;        ///< why they do not, one line; empty when they do
};

/// Offers the landmark in the picture whose click would sharpen the depth most; nothing when none would by a
/// tenth.
FitDraft with_best_offer(FitDraft draft);
/// Places (or moves) the offered landmark and offers the next.
FitDraft with_click(FitDraft draft, ImagePoint at);
FitDraft with_moved_click(FitDraft draft, std::size_t index, ImagePoint at);
FitDraft without_click(FitDraft draft, std::size_t index);
FitDraft with_offer(FitDraft draft, const std::string& name);
/// Offers the landmark after the one offered now, of those a camera usually sees and that are not clicked
/// yet.
FitDraft with_other_offer(FitDraft draft);
/// The fit moved onto the painted lines of the frame's picture; where that cannot be done `why_not` says so.
FitDraft snapped(FitDraft draft, const PictureView& picture, std::string& why_not);
/// Fit of the clicks, or the reason why there is none.
FitDraft refitted(FitDraft draft);

/// One word and its reason for how far the fit can be trusted: "good: 8 clicks, 0.6 px".
struct FitQuality {
    enum class Grade { good, fair, poor } grade{};
    std::string words;
};
FitQuality quality_of(const RinkFit& fit, std::size_t clicks);

} // namespace ropeline
