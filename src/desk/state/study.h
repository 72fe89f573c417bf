// Study: the decisions of a season, which of them are asked, and one of them at a time: the film runs up and stops, the
// goalie calls it and says where to stand, then the play runs on with the answer. Pure state; the film is the window's.
#pragma once

#include "season/answer_worth.h"
#include "season/records.h"

#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

/// A moment at which puck and goalie are marked: at the pass, and at the shot. A play may have both.
struct StudyDecision {
    Id shot_id, moment_id, goalie_id, game_id;
    std::string game_date, home, away, goalie, tags;
    std::optional<int> period;
    std::optional<double> clock_s;
    std::optional<double> film_s; ///< of the shot; none where it is on no film
    std::optional<Situation> situation;
    std::optional<Read> read; ///< what he read in the game; none where it was another decision of the play
    std::optional<NextAction> came; ///< after this moment
    std::optional<Verdict> verdict; ///< the reviewer's before the model's
    std::optional<Outcome> outcome; ///< of the play
    bool on_film = false;           ///< and the film is there
};
/// In      the ids of films that are where they were.
std::vector<StudyDecision> decisions_of(std::span<const ShotFact> facts, const std::set<Id>& films_there);
bool misread_in_game(const StudyDecision& decision);
/// Misread, or not at the right depth.
bool wrong_in_game(const StudyDecision& decision);

enum class StudyWhat { due, unanswered, answered_wrong, wrong_in_game, all };
constexpr int study_whats = 5;
std::string_view label_of(StudyWhat what);

struct StudyFilter {
    StudyWhat what = StudyWhat::unanswered;
    Id goalie_id, game_id; ///< empty: any
    std::optional<Situation> situation;
    bool goals = false;        ///< only plays that ended in one
    bool without_film = false; ///< those too, on the plan
    std::string since, tag;    ///< the earliest day of a game; empty: any
    bool operator==(const StudyFilter&) const = default;
};

/// What one person answered to one decision so far.
struct AnsweredSoFar {
    int times = 0;
    bool wrong = false;    ///< the last time
    std::string due_on{};  ///< empty: it does not come back
    std::string last_on{}; ///< the day of the last time
};
std::map<Id, AnsweredSoFar> answered_by(std::span<const Answer> answers, const std::string& who);

struct StudyQueue {
    std::vector<StudyDecision> decisions;
    int without_film = 0; ///< left out for that
    int held_back =
        0; ///< the other decision of a play, asked or answered today: to see one is to know the other
    int mixed_in = 0; ///< read right in the game, so that the list gives no read away
};
/// In an order of the day that says nothing of what came. Of a play with two decisions only one is asked in a day. The list
/// of what was wrong in the game holds as many decisions that were read right as were misread, as far as there are any.
StudyQueue study_queue(std::span<const StudyDecision> all, const StudyFilter& filter,
                       const std::map<Id, AnsweredSoFar>& so_far, const std::string& day);

enum class StudyPhase { run_up, call, sure, place, answer };

/// One decision under study.
struct StudyTurn {
    Id shot_id, moment_id, goalie_id, film_id;
    bool on_film = false;                          ///< else it is called on the plan alone
    std::int64_t frame = 0;                        ///< of the moment
    std::int64_t first = -1, stop = -1, last = -1; ///< where run-up and play begin and end; -1: not known yet
    StudyPhase phase = StudyPhase::run_up;
    std::optional<Read> call;
    std::optional<Sureness> sure;
    std::optional<IcePoint> place;
    std::optional<PlaceWorth> worth; ///< of that place
    std::optional<Answer> answer;    ///< as it was kept
    double waited_s = 0.0;           ///< from the stop to the place
    bool held_moment = false;        ///< this time round the play stood at its moment
    double hold_left_s = 0.0;
};
/// The answer may be on screen.
inline bool is_answered(const std::optional<StudyTurn>& turn) {
    return turn && turn->phase == StudyPhase::answer;
}

constexpr double run_up_s = 2.5;      ///< the film starts so long before it stops
constexpr double moment_hold_s = 1.5; ///< the play stands at its moment so long, each time round
constexpr double loop_before_s = 1.0; ///< the loop begins so long before the stop

} // namespace ropeline
