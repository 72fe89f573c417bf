#include "desk/state/rink_here.h"

#include "season/derive.h"

#include <algorithm>
#include <iterator>

namespace ropeline {

FitHere fit_here(const LogState& state, std::int64_t frame) {
    return fit_here(state.fits, state.carries, frame);
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

std::optional<KnownStretch> known_stretch(const LogState& state, const StoredFit& key) {
    std::optional<KnownStretch> known;
    struct Held {
        const StoredCarry* carry = nullptr;
        std::int64_t frame = 0;
    } first, last;
    for (const StoredCarry& carry : state.carries) {
        if (carry.rink_fit_id != key.id || carry.frames.empty()) continue;
        if (!known) known = KnownStretch{carry.first_frame, carry.last_frame(), {}, {}};
        known->first = std::min(known->first, carry.first_frame);
        known->last = std::max(known->last, carry.last_frame());
        for (std::size_t i = 0; i < carry.frames.size(); ++i) {
            if (carry.frames.state(i) != CarryState::held) continue;
            const std::int64_t frame = carry.first_frame + static_cast<std::int64_t>(i);
            if (!first.carry || frame < first.frame) first = {&carry, frame};
            if (!last.carry || frame > last.frame) last = {&carry, frame};
        }
    }
    if (!first.carry) return known;
    known->near_first = KeyFit{key.rules, first.carry->at(first.frame).fit, first.frame};
    known->near_last = KeyFit{key.rules, last.carry->at(last.frame).fit, last.frame};
    return known;
}

std::vector<StoredFit> clicked_fits(const LogState& state) {
    std::vector<StoredFit> clicked;
    std::ranges::copy_if(state.fits, std::back_inserter(clicked),
                         [](const StoredFit& fit) { return fit.carried_from.empty(); });
    return clicked;
}

} // namespace ropeline
