#include "desk/state/judged.h"

#include "season/own_figures.h"

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
    result.decision =
        decide(marked, rules, parameters_of(state.season.parameters, state.goalies, entry.shot.goalie_id));
    result.headline = headline_for(result.decision, unit);
    result.figures = figures_of(state, moment, result, std::nullopt, unit);
    result.advice = advice_for(marked, result.decision, rules, unit);
    return result;
}

std::optional<Firmness> firmness_of(const LogState& state, const Moment& moment, const Judged& judged) {
    const auto entry = std::ranges::find_if(
        state.shots, [&](const ShotEntry& one) { return one.shot.id == moment.shot_id; });
    const Id goalie_id = entry == state.shots.end() ? Id{} : entry->shot.goalie_id;
    return firmness_of(judged.asked.moment, rule_book(rules_for(state, moment)),
                       parameters_of(state.season.parameters, state.goalies, goalie_id), state.season.level,
                       moment.id, judged.asked.spread);
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
