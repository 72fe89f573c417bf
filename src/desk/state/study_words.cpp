#include "desk/state/study_words.h"

#include "depth/reading.h"
#include "season/clock_words.h"
#include "season/dates.h"

#include <fmt/core.h>

#include <cmath>

namespace ropeline {

std::string place_read_out(IcePoint place, IcePoint puck, LengthUnit unit) {
    const double out_m = depth_m(place, puck);
    const double off_m = std::abs(off_angle_m(place, puck));
    const LengthUnit figures = unit == LengthUnit::metres ? unit : LengthUnit::feet;
    return fmt::format("{} out ({}), {} off the puck line", in_figures(out_m, figures),
                       in_words(out_m, LengthUnit::skate_lengths), in_figures(off_m, figures));
}

std::string call_words(const Answer& answer, std::optional<NextAction> came) {
    if (!answer.call_right || !answer.read)
        return came ? "Neither a shot nor a pass came, so the call is not counted."
                    : "What came is not logged, so the call is not counted.";
    const Read other = *answer.read == Read::shot ? Read::pass : Read::shot;
    return fmt::format("{}: a {} came.", *answer.call_right ? "Read it" : "Misread it",
                       label_of(*answer.call_right ? *answer.read : other));
}

std::string place_words(const PlaceWorth& worth) {
    if (worth.on_post) {
        return worth.right ? "Right place: on the post."
                           : "Off the post: at that sharp an angle the post is the place.";
    }
    return fmt::format("{}: {:.0f} % of the net left open from there, {:.0f} % from the best place; up to "
                       "{:.3g} % more is not worth acting on.",
                       worth.right ? "Right place" : "It gives net away", 100.0 * worth.left,
                       100.0 * worth.best, 100.0 * worth.worth);
}

std::string play_words(const StudyDecision& decision) {
    std::string words = fmt::format("{}  {} – {}", decision.game_date, decision.home, decision.away);
    if (decision.period && decision.clock_s)
        return words + "  " + game_time_words(*decision.period, *decision.clock_s);
    if (!decision.film_s) return words;
    const int seconds = static_cast<int>(*decision.film_s);
    return words + fmt::format("  film {}:{:02}", seconds / 60, seconds % 60);
}

std::string due_words(const Answer& answer, const std::string& day) {
    if (answer.due_on.empty())
        return answer.call_right.has_value() || answer.place_right.has_value()
                   ? "Answered right: it is not asked again."
                   : "Not counted: it is not asked again.";
    if (answer.due_on == days_after(day, 1)) return "It comes back tomorrow.";
    if (answer.due_on <= day) return "It comes back today.";
    return fmt::format("It comes back on {}.", answer.due_on);
}

std::string why_empty(std::size_t of_season, const StudyFilter& filter, const StudyQueue& queue) {
    if (of_season == 0)
        return "Nothing here yet: a decision can be studied once goalie and puck are marked in Log.";
    if (queue.without_film > 0)
        return "Those of this kind are without film: switch on \"without film, on the plan\".";
    if (queue.held_back > 0)
        return "The others are of plays that were answered today: they are for another day.";
    StudyFilter as_narrow;
    as_narrow.what = filter.what;
    as_narrow.without_film = filter.without_film;
    if (filter != as_narrow)
        return "No decision of this kind is left by the fields above: clear some of them.";
    if (filter.what == StudyWhat::due) return "Nothing is due today: 2 lists what has no answer yet.";
    return "No decision of this kind. 5 lists every one.";
}

} // namespace ropeline
