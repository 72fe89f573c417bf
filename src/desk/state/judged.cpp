#include "desk/state/judged.h"

#include "depth/reason.h"
#include "season/own_figures.h"

#include <algorithm>

namespace ropeline {

std::optional<Judged> judged(const LogState& state, const ShotEntry& entry, const Moment& moment) {
    auto asked = asked_of(entry.shot, entry.moments, moment);
    if (!asked) return std::nullopt;
    Judged result;
    result.asked = std::move(*asked);
    const MarkedMoment& marked = result.asked.moment;
    const RuleBook& rules = rule_book(rules_for(state, moment));
    const Parameters parameters = parameters_of(state.season.parameters, state.goalies, entry.shot.goalie_id);
    result.decision = decide(marked, rules, parameters);
    const std::vector<Flip> flips = find_flips(marked, rules, parameters, state.season.level);
    result.reason = reason_for(marked, result.decision, flips, state.season.level);
    result.advice = advice_for(marked, result.decision.advice);
    return result;
}

Moment with_goalie_at(Moment moment, IcePoint place) {
    std::erase_if(moment.marks, [](const Mark& mark) {
        return mark.kind == MarkKind::goalie || mark.kind == MarkKind::skate_left ||
               mark.kind == MarkKind::skate_right;
    });
    Mark goalie;
    goalie.kind = MarkKind::goalie;
    goalie.ice = place;
    moment.marks.push_back(goalie);
    moment.set.reset();
    return moment;
}

} // namespace ropeline
