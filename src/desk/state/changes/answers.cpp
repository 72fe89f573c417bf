#include "desk/state/changes/answers.h"

#include "desk/state/rink_here.h"
#include "intake/goalie_answers.h"
#include "season/answer_worth.h"
#include "season/come_back.h"
#include "season/own_figures.h"

#include <algorithm>
#include <set>
#include <utility>

namespace ropeline {

namespace {

/// Of a moment of the open game: what the answer was worth.
void put_worth_here(const LogState& state, Answer& answer) {
    for (const ShotEntry& entry : state.shots) {
        const auto moment = std::ranges::find(entry.moments, answer.moment_id, &Moment::id);
        if (moment == entry.moments.end()) continue;
        put_worth(answer, entry.shot, entry.moments, rule_book(rules_for(state, *moment)),
                  parameters_of(state.season.parameters, state.goalies, entry.shot.goalie_id));
    }
}

} // namespace

void handle(LogContext& log, const KeepAnswer& keep) {
    Answer answer = keep.answer;
    put_worth_here(log.state, answer);
    log.file.follow_up([&] {
        log.file.put(answer);
        put_due_days(log.file, {answer.moment_id}, answer.answered_by);
    });
    log.state.answers = log.file.answers().size();
}

void handle(LogContext& log, const TakeAnswers& take) {
    TakenAnswers taken;
    log.file.follow_up([&] { taken = take_answers(log.file, take.answers); });
    log.state.answers = log.file.answers().size();
    log.tell(words_of(taken) + (taken.taken > 0 ? ". In Study [undo] takes them back." : "."));
}

void handle(LogContext& log, const TakeBackAnswers& take) {
    if (take.answers.empty()) return;
    log.file.follow_up([&] {
        std::set<Id> moments;
        for (const Answer& answer : take.answers) {
            log.file.remove_answer(answer.id);
            moments.insert(answer.moment_id);
        }
        put_due_days(log.file, moments, take.answers.front().answered_by);
    });
    log.state.answers = log.file.answers().size();
}

} // namespace ropeline
