#include "season/come_back.h"

#include "season/dates.h"

#include <algorithm>

namespace ropeline {

bool answered_wrong(const Answer& answer) {
    return answer.call_right == false || answer.place_right == false;
}

void put_due_days(std::span<Answer> answers) {
    std::string due;
    std::size_t gap = 0; // which of come_back_days is being waited for
    for (Answer& answer : answers) {
        const std::string day = day_of(answer.answered_at);
        if (answered_wrong(answer)) {
            gap = 0;
            due = days_after(day, come_back_days[gap]);
        } else if (!due.empty() && day >= due) {
            ++gap;
            due = gap < come_back_days.size() ? days_after(day, come_back_days[gap]) : "";
        }
        answer.due_on = due;
    }
}

std::vector<Answer> answers_of(std::span<const Answer> all, const Id& moment_id,
                               const std::string& answered_by) {
    std::vector<Answer> found;
    std::ranges::copy_if(all, std::back_inserter(found), [&](const Answer& one) {
        return one.moment_id == moment_id && one.answered_by == answered_by;
    });
    std::ranges::stable_sort(found, {}, &Answer::answered_at);
    return found;
}

} // namespace ropeline
