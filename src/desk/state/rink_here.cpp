#include "desk/state/rink_here.h"

#include "camera/blend.h"
#include "season/derive.h"

#include <algorithm>
#include <iterator>
#include <limits>

namespace ropeline {

namespace {

/// The clicked fit at or before the frame, else the first after it.
const StoredFit* nearest_clicked(const LogState& state, std::int64_t frame) {
    const StoredFit* holding = nullptr;
    for (const StoredFit& fit : state.fits) {
        if (fit.carried_from.empty() && (!holding || fit.frame <= frame)) holding = &fit;
    }
    return holding;
}

} // namespace

FitHere fit_here(const LogState& state, std::int64_t frame) {
    const StoredFit* clicked = nearest_clicked(state, frame);
    if (!clicked) return {};
    if (clicked->frame == frame)
        return {FitHere::Source::clicked, clicked, clicked->fit, CarryState::held, 0.0};
    std::optional<CarriedFrame> known; // from the fits before and after, blended
    double best_m = 0.0;
    const StoredFit* key = nullptr; // the better of them
    for (const StoredCarry& carry : state.carries) {
        const std::int64_t at = frame - carry.first_frame;
        if (at < 0 || at >= static_cast<std::int64_t>(carry.frames.size())) continue;
        const CarriedFrame& carried = carry.frames[static_cast<std::size_t>(at)];
        const auto from = std::ranges::find(state.fits, carry.rink_fit_id, &StoredFit::id);
        if (from == state.fits.end()) continue;
        if (!key || (carried.state != CarryState::lost && carried.sigma_m < best_m)) {
            key = &*from;
            best_m =
                carried.state == CarryState::lost ? std::numeric_limits<double>::infinity() : carried.sigma_m;
        }
        known = known ? blended(*known, carried) : carried;
    }
    if (!known) return {FitHere::Source::assumed, clicked, clicked->fit, CarryState::unsure, 0.0};
    if (known->state == CarryState::lost) return {FitHere::Source::lost, key, {}, CarryState::lost, 0.0};
    return {FitHere::Source::carried, key, known->fit, known->state, known->sigma_m};
}

FitHere fit_for(const LogState& state, const Shot& shot, const Moment& moment) {
    FitHere here;
    if (moment.film_id == open_film(state)) {
        here = fit_here(state, moment.frame);
    } else {
        const auto stored = std::ranges::find(state.other_fits, moment.rink_fit_id, &StoredFit::id);
        if (stored == state.other_fits.end()) return here;
        const bool clicked_here = stored->carried_from.empty() && stored->frame == moment.frame;
        here = {clicked_here                   ? FitHere::Source::clicked
                : stored->carried_from.empty() ? FitHere::Source::assumed
                                               : FitHere::Source::carried,
                &*stored, stored->fit, CarryState::held, 0.0};
    }
    if (here.fit) here.fit = fit_for(shot, moment, *here.fit, rule_book(here.key->rules));
    return here;
}

RuleBookId rules_for(const LogState& state, const Moment& moment) {
    if (moment.film_id == open_film(state)) {
        if (const FitHere here = fit_here(state, moment.frame); here.key) return here.key->rules;
    }
    const auto stored = std::ranges::find(state.other_fits, moment.rink_fit_id, &StoredFit::id);
    if (stored != state.other_fits.end()) return stored->rules;
    return game_rules(state);
}

RuleBookId rules_at(const LogState& state, std::int64_t frame) {
    if (const FitHere here = fit_here(state, frame); here.key) return here.key->rules;
    return game_rules(state);
}

std::vector<StoredFit> clicked_fits(const LogState& state) {
    std::vector<StoredFit> clicked;
    std::ranges::copy_if(state.fits, std::back_inserter(clicked),
                         [](const StoredFit& fit) { return fit.carried_from.empty(); });
    return clicked;
}

} // namespace ropeline
