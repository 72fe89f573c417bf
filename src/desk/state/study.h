// Study: the queue of decisions that were misread or not at the right depth, and one of them at a time: the film runs up and stops,
// the goalie calls it and says where to stand, then the answer is shown. Pure state; the film is the
// window's.
#pragma once

#include "season/records.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

enum class StudyWhat {
    misread,   ///< read a shot and a pass came, or the other way round
    not_right, ///< the verdict is not "right depth", the reviewer's before the model's
    all,
};
constexpr int study_whats = 3;
std::string_view label_of(StudyWhat what);

struct StudyFilter {
    Id goalie_id, game_id; ///< empty: any
    StudyWhat what = StudyWhat::misread;
};
bool misread(const ShotFact& fact);
/// The moment whose decision is studied: the one of the pass when a pass came, else the shot's.
const Id& studied_moment(const ShotFact& fact);
/// The reviewer's verdict on it, else the model's.
std::optional<Verdict> studied_verdict(const ShotFact& fact);
std::optional<double> studied_depth_m(const ShotFact& fact);
bool in_queue(const ShotFact& fact, const StudyFilter& filter);
/// The newest game first.
std::vector<ShotFact> study_queue(std::span<const ShotFact> facts, const StudyFilter& filter);

enum class StudyPhase { run_up, call, place, answer };

/// One decision under study.
struct StudyTurn {
    Id shot_id, moment_id, goalie_id;
    std::int64_t frame = 0; ///< where the film stops
    StudyPhase phase = StudyPhase::run_up;
    std::optional<Read> call;
    std::optional<IcePoint> place;
    double waited_s = 0.0; ///< from the stop to the place
};

constexpr double run_up_s = 2.0; ///< the film starts so long before the moment

/// An answer with the play it was about.
struct AnsweredMoment {
    Answer answer;
    std::optional<NextAction> came;
    std::optional<IcePoint> puck;
};

/// Nothing where neither a shot nor a pass came: then no call was right or wrong.
std::optional<bool> right_call(const std::optional<Read>& call, const std::optional<NextAction>& came);

/// What is said of the place a goalie put himself: within the tolerance of the advised stretch, or how far out of
/// it; on the post where the puck is too low for depth.
struct PlaceWords {
    bool right = false;
    std::string text; ///< "You: 1.90 m out, 0.32 m too far out."
};
PlaceWords words_of_place(IcePoint place, const MarkedMoment& moment, const Decision& decision,
                          const RuleBook& rules, const Parameters& parameters);

/// How the answers went. A call is right when it was what came; a place when its depth on the puck line is
/// within the season's depth tolerance of the stretch that the model advised when it was answered.
struct StudySum {
    struct Count {
        int right = 0, of = 0;
    };
    Count calls, places;
};
StudySum sum_of(std::span<const AnsweredMoment> answers, double depth_tolerance_m);

} // namespace ropeline
