#include "desk/find_rink_here.h"

#include "desk/state/rink_here.h"

#include <algorithm>
#include <exception>
#include <utility>

namespace ropeline {
namespace {

std::vector<RinkFit> fits_of(const std::vector<StoredFit>& clicked) {
    std::vector<RinkFit> fits;
    for (const StoredFit& fit : clicked)
        fits.push_back(fit.fit);
    return fits;
}

bool same_fits(const std::vector<StoredFit>& one, const std::vector<StoredFit>& other) {
    return std::ranges::equal(one, other, [](const StoredFit& a, const StoredFit& b) {
        return a.id == b.id && a.fit.image_from_ice == b.fit.image_from_ice;
    });
}

void take_found(App& app) {
    RinkSearch& search = app.stage.search;
    const std::unique_ptr<RinkFinder> work = std::exchange(search.work, nullptr);
    try {
        const std::optional<FoundRink> found = work->take();
        if (!found) return;
        const StoredFit& by = search.fits.at(found->fit);
        const std::vector<StoredFit> now = clicked_fits(app.log.state());
        if (std::ranges::find(now, by.id, &StoredFit::id) == now.end()) return;
        app.log.book->apply(KeepCarry{{by.id, search.frame, CarriedFrames({found->frame})}},
                            frame_at(app.stage));
    } catch (const std::exception& error) {
        tell_trouble(app, error);
    }
}

bool is_unknown(const FitHere& here) {
    return here.source == FitHere::Source::elsewhere || here.source == FitHere::Source::lost;
}

} // namespace

void find_rink_here(App& app) {
    FilmStage& stage = app.stage;
    RinkSearch& search = stage.search;
    std::erase_if(stage.let_go, [](const auto& work) { return work->finished(); });
    if (search.work) {
        if (search.work->finished()) take_found(app);
        return;
    }
    const LogState& log = app.log.state();
    const std::int64_t frame = number(stage.player.frame);
    if (!stage.carry_wanted || stage.player.playing || stage.on_screen != stage.player.frame ||
        log.selection.fit())
        return;
    if (search.asked_at == log.revision && search.frame == frame) return;
    search.asked_at = log.revision;
    search.frame = frame;
    if (!is_unknown(fit_here(log, frame))) return;
    std::vector<StoredFit> clicked = clicked_fits(log);
    if (!same_fits(clicked, search.fits)) search.looked_for.clear();
    search.fits = std::move(clicked);
    const PicturePtr picture = stage.film->cached(stage.player.frame);
    if (!picture) return search.asked_at.reset();
    if (!search.looked_for.insert(frame).second) return;
    search.work = std::make_unique<RinkFinder>(picture, *stage.film->facts(), fits_of(search.fits),
                                               rules_at(log, frame));
}

} // namespace ropeline
