// What the Study side lists, and how the answers went: worked out when season, filter or name is another one.
#include "desk/app.h"
#include "season/come_back.h"
#include "season/dates.h"

#include <algorithm>
#include <set>

namespace ropeline {

namespace {

std::vector<std::string> tags_of(const std::vector<StudyDecision>& decisions) {
    std::set<std::string> tags;
    for (const StudyDecision& one : decisions) {
        std::size_t from = 0;
        while (from < one.tags.size()) {
            const std::size_t end = std::min(one.tags.find(", ", from), one.tags.size());
            tags.insert(one.tags.substr(from, end - from));
            from = end + 2;
        }
    }
    return {tags.begin(), tags.end()};
}

StudyProgress progress_by(const StudyPart& study, const std::vector<Answer>& answers,
                          const std::string& who) {
    constexpr std::size_t last_sittings = 4;
    StudyProgress progress;
    progress.sittings = sittings_of(answers, who);
    progress.all = sum_of(std::span<const std::vector<Answer>>{progress.sittings});
    std::map<Id, std::optional<Situation>> situations;
    for (const StudyDecision& one : study.decisions)
        situations[one.moment_id] = one.situation;
    progress.situations = progress_of(progress.sittings, situations, last_sittings);
    for (const auto& [moment, so_far] : study.so_far)
        if (!so_far.due_on.empty()) ++progress.coming_back[std::max(so_far.due_on, study.day)];
    if (progress.sittings.empty()) return progress;
    const auto& last = progress.sittings.back();
    progress.last = sum_of(std::span<const Answer>{last});
    std::set<Id> wrong;
    for (const Answer& answer : last)
        if (answered_wrong(answer)) wrong.insert(answer.moment_id);
    for (const StudyDecision& one : study.decisions)
        if (wrong.contains(one.moment_id)) progress.wrong_now.push_back(one);
    return progress;
}

/// What is due opens first; else what has no answer yet, else every decision. Without any film it is studied on the plan.
void settle(StudyPart& study) {
    study.settled = true;
    const bool any_film = std::ranges::any_of(study.decisions, &StudyDecision::on_film);
    if (!any_film && !study.decisions.empty()) study.filter.without_film = true;
    study.filter.what = study.due > 0 ? StudyWhat::due : StudyWhat::unanswered;
}

} // namespace

void refresh_study(App& app, bool season_read) {
    StudyPart& study = app.study;
    if (app.side != Side::study) return;
    const std::string& who = app.settings.answers_as;
    if (study.day.empty()) study.day = today();
    const bool same =
        study.made_with && study.made_with->first == study.filter && study.made_with->second == who;
    if (same && !season_read && study.settled) return;
    if (season_read || study.decisions.empty()) {
        study.decisions = decisions_of(app.season.facts, app.season.films_there);
        study.tags = tags_of(study.decisions);
    }
    study.so_far = answered_by(app.season.answers, who);
    StudyFilter due;
    due.what = StudyWhat::due;
    due.without_film = true;
    study.due = static_cast<int>(study_queue(study.decisions, due, study.so_far, study.day).decisions.size());
    if (!study.settled) settle(study);
    study.made_with = {study.filter, who};
    study.queue = study_queue(study.decisions, study.filter, study.so_far, study.day);
    study.progress = progress_by(study, app.season.answers, who);
}

} // namespace ropeline
