#include "desk/state/rink_here.h"

#include "desk/state/fit_draft.h"
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
        if (stored->frame != moment.frame) return here;
        here = {stored->carried_from.empty() ? FitHere::Source::clicked : FitHere::Source::carried, &*stored,
                stored->fit, CarryState::held, 0.0};
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

namespace {

/// The stretches of a fit that join around its own frame; those beside were found by themselves.
std::vector<const StoredCarry*> joined_stretches(const LogState& state, const StoredFit& key) {
    std::vector<const StoredCarry*> all, joined;
    for (const StoredCarry& carry : state.carries) {
        if (carry.rink_fit_id == key.id && !carry.frames.empty()) all.push_back(&carry);
    }
    std::ranges::sort(all, {}, &StoredCarry::first_frame);
    bool with_key = false;
    for (const StoredCarry* carry : all) {
        if (!joined.empty() && joined.back()->last_frame() + 1 < carry->first_frame) {
            if (with_key) break;
            joined.clear();
        }
        joined.push_back(carry);
        with_key = with_key || carry->has(key.frame);
    }
    return with_key ? joined : std::vector<const StoredCarry*>{};
}

} // namespace

std::optional<KnownStretch> known_stretch(const LogState& state, const StoredFit& key) {
    const std::vector<const StoredCarry*> joined = joined_stretches(state, key);
    if (joined.empty()) return std::nullopt;
    KnownStretch known{joined.front()->first_frame, joined.back()->last_frame(), {}, {}};
    const auto held_in = [&](const StoredCarry& carry, std::int64_t frame) {
        const auto at = static_cast<std::size_t>(frame - carry.first_frame);
        return carry.frames.state(at) == CarryState::held;
    };
    for (const StoredCarry* carry : joined) {
        for (std::int64_t frame = carry->first_frame; !known.near_first && frame <= carry->last_frame();
             ++frame)
            if (held_in(*carry, frame)) known.near_first = KeyFit{key.rules, carry->at(frame).fit, frame};
    }
    for (auto carry = joined.rbegin(); carry != joined.rend(); ++carry) {
        for (std::int64_t frame = (*carry)->last_frame(); !known.near_last && frame >= (*carry)->first_frame;
             --frame)
            if (held_in(**carry, frame)) known.near_last = KeyFit{key.rules, (*carry)->at(frame).fit, frame};
    }
    return known;
}

std::vector<FilmCamera> cameras_of_film(const LogState& state, const Id& besides) {
    std::vector<ClickedView> views;
    for (const StoredFit& fit : state.fits) {
        if (fit.carried_from.empty() && fit.id != besides)
            views.push_back({clicks_of(fit.rules, fit.landmarks), fit.fit});
    }
    return film_cameras(views);
}

std::vector<StoredFit> clicked_fits(const LogState& state) {
    std::vector<StoredFit> clicked;
    std::ranges::copy_if(state.fits, std::back_inserter(clicked),
                         [](const StoredFit& fit) { return fit.carried_from.empty(); });
    return clicked;
}

} // namespace ropeline
