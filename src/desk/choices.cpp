#include "desk/choices.h"

namespace ropeline {

void overrule_verdict(OverruleForm& form, Actions& actions, std::optional<Verdict> verdict) {
    actions.push_back(Overrule{verdict, verdict ? form.reason : std::string{}});
    form.open = false;
}

void choose_in_open_cell(const LogState& log, ListPart& list, Actions& actions, int number) {
    if (const auto field = field_of(list.open->column)) {
        actions.push_back(ChooseIn{*field, number});
    } else if (number <= static_cast<int>(log.goalies.size())) {
        actions.push_back(PickGoalie{log.goalies[static_cast<std::size_t>(number - 1)].id});
    } else {
        return;
    }
    list.open.reset();
}

} // namespace ropeline
