#include "season/come_back.h"

#include "season/dates.h"

#include <map>
#include <utility>
#include <vector>

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

void put_due_days(SeasonFile& file, const std::set<Id>& moment_ids, const std::string& answered_by) {
    std::map<Id, std::vector<Answer>> by_moment; // the oldest first, as the file gives them
    for (Answer& answer : file.answers())
        if (answer.answered_by == answered_by && moment_ids.contains(answer.moment_id))
            by_moment[answer.moment_id].push_back(std::move(answer));
    for (auto& [moment, answers] : by_moment) {
        const std::vector<Answer> before = answers;
        put_due_days(answers);
        for (std::size_t index = 0; index < answers.size(); ++index)
            if (answers[index].due_on != before[index].due_on) file.put(answers[index]);
    }
}

} // namespace ropeline
