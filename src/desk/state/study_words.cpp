#include "desk/state/study_words.h"

#include "season/dates.h"

#include <fmt/core.h>

#include <cmath>

namespace ropeline {

std::string place_read_out(IcePoint place, IcePoint puck, LengthUnit unit) {
    const double far = std::max(1e-9, length(puck));
    const double out_m = depth_m(place, puck);
    const double off_m = std::abs(place.x_m * puck.y_m - place.y_m * puck.x_m) / far;
    const LengthUnit figures = unit == LengthUnit::metres ? unit : LengthUnit::feet;
    return fmt::format("{} out ({}), {} off the puck line", in_figures(out_m, figures),
                       in_words(out_m, LengthUnit::skate_lengths), in_figures(off_m, figures));
}

std::string call_words(const Answer& answer) {
    if (!answer.call_right || !answer.read)
        return "Neither a shot nor a pass came, so the call is not counted.";
    const Read other = *answer.read == Read::shot ? Read::pass : Read::shot;
    return fmt::format("{}: a {} came.", *answer.call_right ? "Read it" : "Misread it",
                       label_of(*answer.call_right ? *answer.read : other));
}

std::string place_words(const PlaceWorth& worth) {
    if (worth.on_post) {
        return worth.right ? "Right place: on the post."
                           : "Off the post: at that sharp an angle the post is the place.";
    }
    return fmt::format("{}: {:.0f} % of the net left open from there, {:.0f} % from the best place.",
                       worth.right ? "Right place" : "It gives net away", 100.0 * worth.left,
                       100.0 * worth.best);
}

std::string due_words(const Answer& answer, const std::string& day) {
    if (answer.due_on.empty()) return "It does not come back.";
    if (answer.due_on == days_after(day, 1)) return "It comes back tomorrow.";
    if (answer.due_on <= day) return "It comes back today.";
    return fmt::format("It comes back on {}.", answer.due_on);
}

} // namespace ropeline
