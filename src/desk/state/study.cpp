#include "desk/state/study.h"

#include "depth/reading.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

std::string_view label_of(StudyWhat what) {
    switch (what) {
    case StudyWhat::wrong_read:
        return "wrong reads";
    case StudyWhat::not_right:
        return "verdict not right";
    case StudyWhat::all:
        return "every decision";
    }
    return "";
}

bool wrong_read(const ShotFact& fact) {
    return (fact.read == Read::shot && fact.came == NextAction::pass) ||
           (fact.read == Read::pass && fact.came == NextAction::shot);
}

namespace {

bool at_the_pass(const ShotFact& fact) {
    return fact.came == NextAction::pass && fact.pass;
}

} // namespace

const Id& studied_moment(const ShotFact& fact) {
    return at_the_pass(fact) ? fact.pass->moment_id : fact.moment_id;
}
std::optional<Verdict> studied_verdict(const ShotFact& fact) {
    if (at_the_pass(fact)) return fact.pass->overruled ? fact.pass->overruled : fact.pass->verdict;
    return fact.overruled ? fact.overruled : fact.verdict;
}
std::optional<double> studied_depth_m(const ShotFact& fact) {
    return at_the_pass(fact) ? std::optional{fact.pass->depth_m} : fact.depth_m;
}

bool in_queue(const ShotFact& fact, const StudyFilter& filter) {
    if (!filter.goalie_id.empty() && fact.goalie_id != filter.goalie_id) return false;
    if (!filter.game_id.empty() && fact.game_id != filter.game_id) return false;
    if (!fact.depth_m) return false;
    switch (filter.what) {
    case StudyWhat::wrong_read:
        return wrong_read(fact);
    case StudyWhat::not_right: {
        const auto verdict = studied_verdict(fact);
        return verdict && *verdict != Verdict::right_read && *verdict != Verdict::not_judged;
    }
    case StudyWhat::all:
        break;
    }
    return true;
}

std::vector<ShotFact> study_queue(std::span<const ShotFact> facts, const StudyFilter& filter) {
    std::vector<ShotFact> queue;
    for (const ShotFact& fact : facts) {
        if (in_queue(fact, filter)) queue.push_back(fact);
    }
    std::ranges::stable_sort(queue, std::ranges::greater{}, &ShotFact::game_date);
    return queue;
}

std::optional<bool> right_call(const std::optional<Read>& call, const std::optional<NextAction>& came) {
    if (!call || (came != NextAction::shot && came != NextAction::pass)) return std::nullopt;
    return (*call == Read::shot) == (came == NextAction::shot);
}

StudySum sum_of(std::span<const AnsweredMoment> answers, double depth_tolerance_m) {
    StudySum sum;
    for (const auto& [answer, came, puck] : answers) {
        if (const auto right = right_call(answer.read, came)) {
            ++sum.calls.of;
            sum.calls.right += *right;
        }
        if (answer.ice && puck && answer.advised_depth_m) {
            ++sum.places.of;
            sum.places.right +=
                std::abs(depth_m(*answer.ice, *puck) - *answer.advised_depth_m) <= depth_tolerance_m;
        }
    }
    return sum;
}

} // namespace ropeline
