#include "desk/panels/hand_words.h"

#include "desk/state/keys.h"
#include "rink/curves.h"

#include <fmt/core.h>

namespace ropeline {

namespace {

std::string words_of_hand(const LogState& log) {
    switch (log.selection.hand()) {
    case Hand::first_skate:
        return "Click one skate of the goalie where the blade touches the ice.   [mark_goalie]: one point "
               "instead";
    case Hand::second_skate:
        return "Click the other skate.";
    case Hand::goalie:
        return "Click the ice between the goalie's skates.   [mark_skates]: both skates instead";
    case Hand::puck:
        return "Click the puck.";
    case Hand::threat:
        return "Click an opponent a pass could reach, where the skates touch the ice. Nobody: go on with the "
               "card.";
    case Hand::landmark: {
        const FitDraft* fit = log.selection.fit();
        if (!fit || fit->offered.empty())
            return "Sharp enough: [take_shot] keeps the fit. Any other point or line can be picked on the "
                   "plan.";
        const RuleBook& rules = rule_book(fit->rules);
        return fmt::format("Click {} {}.   [other_landmark]: another, or pick one on the plan",
                           find_curve(rules, fit->offered) ? "anywhere on the" : "the",
                           label_of(rules, fit->offered));
    }
    case Hand::empty:
        break;
    }
    return {};
}

/// Offers the marks of the moment before while the hand asks for some of them.
std::string faint_words(const LogPart& part) {
    const auto& offered = part.view.asked;
    if (offered.empty()) return {};
    return offered.size() == 1 ? "   [take_ghosts]: keep the faint mark"
                               : "   [take_ghosts]: keep the faint marks";
}

} // namespace

std::string hand_words(const LogPart& part) {
    return with_keys(words_of_hand(part.state()) + faint_words(part));
}

} // namespace ropeline
