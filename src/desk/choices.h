// Choices that a click and a number key make alike.
#pragma once

#include "desk/actions.h"
#include "desk/list_part.h"
#include "desk/pages.h"

#include <array>
#include <optional>

namespace ropeline {

/// The verdicts a reviewer can give, in the order of their numbers.
inline constexpr std::array reviewer_verdicts = {
    Verdict::right_depth, Verdict::over_challenged, Verdict::too_far_out, Verdict::sat_back,
    Verdict::off_angle,   Verdict::beaten_across,   Verdict::off_the_post};
/// None: the model's verdict stands again. Closes the form.
void overrule_verdict(OverruleForm& form, Actions& actions, std::optional<Verdict> verdict);

/// The numbered choice of the open cell; closes it.
void choose_in_open_cell(const LogState& log, ListPart& list, Actions& actions, int number);

} // namespace ropeline
