// Study on the desk: which decisions, the one that is open, and what was answered in this sitting.
#pragma once

#include "desk/state/season_reader.h"
#include "desk/state/study.h"
#include "desk/state/study_sum.h"

#include <optional>
#include <string>
#include <vector>

namespace ropeline {

/// What undo takes back at once: an answer, or all that came out of a file.
struct GivenAnswers {
    std::vector<Answer> answers;
    const char* words() const {
        return answers.size() == 1 ? "the last answer" : "the answers out of the file";
    }
};

/// How somebody's answers went, worked out when they changed.
struct StudyProgress {
    std::vector<std::vector<Answer>> sittings;
    StudySum last, all; ///< of the last sitting, and of all of them
    std::vector<SituationProgress> situations;
    std::map<std::string, int> coming_back; ///< how many decisions by day
    std::vector<StudyDecision> wrong_now;   ///< in the last sitting
};

struct StudyPart {
    StudyFilter filter;
    SharedFacts facts_seen;               ///< the season's, that the decisions were made of
    std::string day;                      ///< the sitting is of; empty: Study is not on screen
    bool settled = false;                 ///< the list that suits was picked when Study came on screen
    std::vector<StudyDecision> decisions; ///< of the season
    std::vector<std::string> tags;        ///< of them
    StudyQueue queue;
    int due = 0; ///< today, by whoever answers
    std::map<Id, AnsweredSoFar> so_far;
    StudyProgress progress;
    std::optional<std::pair<StudyFilter, std::string>> made_with; ///< filter and name of the queue

    std::vector<Id> round;         ///< the decisions that are asked one after another
    std::optional<StudyTurn> turn; ///< the decision under study; none: the list is shown
    bool running = false;          ///< its run-up has begun
    bool sum_page = false;         ///< how the sitting went stands in the list's place
    std::vector<GivenAnswers> given, taken_back;
    std::string typed_name;  ///< of who answers, while it is typed
    std::string typed_since; ///< the filter's day
};

} // namespace ropeline
