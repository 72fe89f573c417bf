#include "desk/state/changes/answers.h"

#include "desk/state/rink_here.h"
#include "intake/goalie_answers.h"
#include "season/answer_worth.h"
#include "season/come_back.h"
#include "season/own_figures.h"

#include <algorithm>
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
    auto all = answers_of(log.file.answers(), answer.moment_id, answer.answered_by);
    std::erase_if(all, [&](const Answer& one) { return one.id == answer.id; });
    all.push_back(answer);
    put_due_days(all);
    answer.due_on = all.back().due_on;
    log.file.follow_up([&] { log.file.put(answer); });
    log.state.answers = log.file.answers().size();
}

void handle(LogContext& log, const TakeAnswers& take) {
    TakenAnswers taken;
    log.file.follow_up([&] { taken = take_answers(log.file, take.answers); });
    log.state.answers = log.file.answers().size();
    log.tell(words_of(taken) + (taken.taken > 0 ? ". In Study [undo] takes them back." : "."));
}

void handle(LogContext& log, const TakeBackAnswers& take) {
    log.file.follow_up([&] {
        for (const Id& id : take.ids)
            log.file.remove_answer(id);
    });
    log.state.answers = log.file.answers().size();
}

} // namespace ropeline
