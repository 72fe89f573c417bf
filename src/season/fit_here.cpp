#include "season/fit_here.h"

#include "camera/blend.h"

#include <algorithm>
#include <limits>

namespace ropeline {
namespace {

/// The clicked fit at or before the frame, else the first after it.
const StoredFit* nearest_clicked(std::span<const StoredFit> fits, std::int64_t frame) {
    const StoredFit* holding = nullptr;
    for (const StoredFit& fit : fits) {
        if (fit.carried_from.empty() && (!holding || fit.frame <= frame)) holding = &fit;
    }
    return holding;
}

} // namespace

FitHere fit_here(std::span<const StoredFit> fits, std::span<const StoredCarry> carries, std::int64_t frame) {
    const StoredFit* clicked = nearest_clicked(fits, frame);
    if (!clicked) return {};
    if (clicked->frame == frame)
        return {FitHere::Source::clicked, clicked, clicked->fit, CarryState::held, 0.0};
    std::optional<CarriedFrame> known; // from the fits before and after, blended
    double best_m = 0.0;
    const StoredFit* key = nullptr; // the better of them
    for (const StoredCarry& carry : carries) {
        if (!carry.has(frame)) continue;
        const auto from = std::ranges::find(fits, carry.rink_fit_id, &StoredFit::id);
        if (from == fits.end()) continue;
        const CarriedFrame carried = carry.at(frame);
        if (!key || (carried.state != CarryState::lost && carried.sigma_m < best_m)) {
            key = &*from;
            best_m =
                carried.state == CarryState::lost ? std::numeric_limits<double>::infinity() : carried.sigma_m;
        }
        known = known ? blended(*known, carried) : carried;
    }
    if (!known) return {FitHere::Source::elsewhere, clicked, {}, CarryState::lost, 0.0};
    if (known->state == CarryState::lost) return {FitHere::Source::lost, key, {}, CarryState::lost, 0.0};
    return {FitHere::Source::carried, key, known->fit, known->state, known->sigma_m};
}

void name_fit(SeasonFile& file, const FitHere& here, std::span<const StoredFit> fits, Moment& moment) {
    moment.rink_fit_id = here.key ? here.key->id : Id{};
    if (!here.fit) moment.rink_fit_id.clear();
    if (here.source != FitHere::Source::carried) return;
    StoredFit row;
    for (const StoredFit& known : fits) {
        if (known.carried_from == here.key->id && known.frame == moment.frame) row = known;
    }
    row.film_id = here.key->film_id;
    row.carried_from = here.key->id;
    row.frame = moment.frame;
    row.pts_ticks = moment.pts_ticks;
    row.rules = here.key->rules;
    row.fit = *here.fit; // as it was carried: turned to the other net only where it is used
    file.put(row);
    moment.rink_fit_id = row.id;
}

} // namespace ropeline
