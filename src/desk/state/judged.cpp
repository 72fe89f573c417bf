#include "desk/state/judged.h"

#include <algorithm>

namespace ropeline {

std::optional<Judged> judged(const LogState& state, const ShotEntry& entry, const Moment& moment,
                             LengthUnit unit) {
    auto asked = asked_of(entry.shot, entry.moments, moment);
    if (!asked) return std::nullopt;
    Judged result;
    result.asked = std::move(*asked);
    const MarkedMoment& marked = result.asked.moment;
    const RuleBook& rules = rule_book(rules_for(state, moment));
    result.decision = decide(marked, rules, state.season.parameters);
    result.headline = headline_for(result.decision, unit);
    result.figures = figures_of(state, moment, result, std::nullopt, unit);
    result.advice = advice_for(marked, result.decision, rules, unit);
    return result;
}

std::optional<Firmness> firmness_of(const LogState& state, const Moment& moment, const Judged& judged) {
    return firmness_of(judged.asked.moment, rule_book(rules_for(state, moment)), state.season.parameters,
                       state.season.level, moment.id, judged.asked.spread);
}

std::vector<std::string> figures_of(const LogState& state, const Moment& moment, const Judged& judged,
                                    const std::optional<Firmness>& firmness, LengthUnit unit) {
    return figure_parts_for(judged.asked.moment, judged.decision, firmness, state.season.level,
                            rule_book(rules_for(state, moment)), unit);
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
