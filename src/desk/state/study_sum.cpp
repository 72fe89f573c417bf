#include "desk/state/study_sum.h"

#include "season/dates.h"
#include "tally/proportion.h"

#include <fmt/core.h>

#include <algorithm>
#include <set>

namespace ropeline {

std::vector<std::vector<Answer>> sittings_of(std::span<const Answer> answers, const std::string& who) {
    constexpr double pause_s = 3600.0;
    std::vector<Answer> mine;
    std::ranges::copy_if(answers, std::back_inserter(mine),
                         [&](const Answer& one) { return one.answered_by == who; });
    std::ranges::stable_sort(mine, {}, &Answer::answered_at);
    std::vector<std::vector<Answer>> sittings;
    for (Answer& answer : mine) {
        const bool goes_on =
            !sittings.empty() &&
            seconds_of(answer.answered_at) - seconds_of(sittings.back().back().answered_at) <= pause_s;
        if (!goes_on) sittings.emplace_back();
        sittings.back().push_back(std::move(answer));
    }
    return sittings;
}

namespace {

void count(RightOf& into, const std::optional<bool>& right) {
    if (!right) return;
    ++into.of;
    into.right += *right ? 1 : 0;
}

} // namespace

StudySum sum_of(std::span<const Answer> answers) {
    StudySum sum;
    std::set<Id> counted;
    double gave_away = 0.0;
    for (const Answer& answer : answers) {
        if (!counted.insert(answer.moment_id).second) continue;
        count(sum.calls, answer.call_right);
        count(sum.places, answer.place_right);
        if (answer.sure) count(sum.by_sureness[*answer.sure], answer.call_right);
        if (!answer.gave_away) continue;
        gave_away += std::max(0.0, *answer.gave_away);
        ++sum.weighed;
    }
    if (sum.weighed > 0) sum.gave_away = gave_away / sum.weighed;
    return sum;
}

StudySum sum_of(std::span<const std::vector<Answer>> sittings) {
    std::map<Id, Answer> last;
    for (const auto& sitting : sittings) {
        std::set<Id> here;
        for (const Answer& answer : sitting)
            if (here.insert(answer.moment_id).second) last[answer.moment_id] = answer;
    }
    std::vector<Answer> each;
    for (auto& [id, answer] : last)
        each.push_back(std::move(answer));
    return sum_of(std::span<const Answer>{each});
}

std::vector<SituationProgress> progress_of(std::span<const std::vector<Answer>> sittings,
                                           const std::map<Id, std::optional<Situation>>& situations,
                                           std::size_t last_sittings) {
    const auto situation_of = [&](const Answer& answer) {
        const auto found = situations.find(answer.moment_id);
        return found == situations.end() ? std::nullopt : found->second;
    };
    constexpr int not_said = 1000;
    std::map<int, SituationProgress> rows;
    for (const auto& sitting : sittings) {
        for (const Answer& answer : sitting) {
            const auto situation = situation_of(answer);
            rows[situation ? static_cast<int>(*situation) : not_said].situation = situation;
        }
    }
    std::vector<SituationProgress> progress;
    for (auto& [order, of_order] : rows) {
        SituationProgress& row = of_order;
        std::vector<std::vector<Answer>> of_it;
        for (const auto& sitting : sittings) {
            std::vector<Answer>& kept = of_it.emplace_back();
            std::ranges::copy_if(sitting, std::back_inserter(kept),
                                 [&](const Answer& answer) { return situation_of(answer) == row.situation; });
        }
        row.all = sum_of(std::span<const std::vector<Answer>>{of_it});
        const std::size_t from = of_it.size() - std::min(last_sittings, of_it.size());
        for (std::size_t index = from; index < of_it.size(); ++index)
            row.sittings.push_back(sum_of(std::span<const Answer>{of_it[index]}));
        progress.push_back(std::move(row));
    }
    return progress;
}

std::string right_of_words(const RightOf& count) {
    if (count.of == 0) return "none yet";
    const Interval sure = wilson(count.right, count.of);
    return fmt::format("{} of {} ({:.0f} to {:.0f} %)", count.right, count.of, 100.0 * sure.low,
                       100.0 * sure.high);
}

} // namespace ropeline
