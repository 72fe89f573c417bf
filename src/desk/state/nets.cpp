#include "desk/state/nets.h"

#include "camera/turned.h"
#include "desk/state/rink_here.h"

#include <cstdlib>
#include <optional>

namespace ropeline {

namespace {

bool sees(const RinkFit& fit, IcePoint place, ImageSize image) {
    const auto seen = image_at(fit, place);
    return seen && in_picture(*seen, image);
}

/// Whether both goalies defend the same net at the same time: one of them, or both of one team. Nothing when
/// that is not known.
std::optional<bool> same_net(const LogState& state, const Id& one, const Id& other) {
    if (one == other) return true;
    const Goalie* a = goalie_of(state, one);
    const Goalie* b = goalie_of(state, other);
    if (!a || !b || a->team_id.empty() || b->team_id.empty()) return std::nullopt;
    return a->team_id == b->team_id;
}

/// The shot on this film that lies nearest before the fresh one and tells which net is whose, else the first
/// after it.
const Shot* shot_before(const LogState& state, const Shot& fresh) {
    const Shot* nearest = nullptr;
    for (const ShotEntry& entry : state.shots) {
        const Shot& shot = entry.shot;
        if (shot.film_id != fresh.film_id || !same_net(state, shot.goalie_id, fresh.goalie_id)) continue;
        if (!nearest || shot.frame <= fresh.frame) nearest = &shot;
    }
    return nearest;
}

} // namespace

bool likely_far_net(const LogState& state, const Shot& fresh, ImageSize image) {
    if (const FitHere here = fit_here(state, fresh.frame); here.fit) {
        const RuleBook& rules = rule_book(here.key->rules);
        const bool near = sees(*here.fit, {0.0, 0.0}, image);
        const bool far = sees(*here.fit, turned(IcePoint{0.0, 0.0}, rules), image);
        if (near != far) return far;
    }
    const Shot* before = shot_before(state, fresh);
    if (!before) return false;
    const bool both_known = before->period && fresh.period;
    const bool ends_changed = both_known && std::abs(*fresh.period - *before->period) % 2 == 1;
    const bool other_team = !*same_net(state, before->goalie_id, fresh.goalie_id);
    return before->far_net != (ends_changed != other_team);
}

} // namespace ropeline
