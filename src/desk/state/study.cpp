#include "desk/state/study.h"

#include "depth/on_post.h"
#include "depth/reading.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

std::string_view label_of(StudyWhat what) {
    switch (what) {
    case StudyWhat::misread:
        return "misread it";
    case StudyWhat::not_right:
        return "not the right depth";
    case StudyWhat::all:
        return "every decision";
    }
    return "";
}

bool misread(const ShotFact& fact) {
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
    case StudyWhat::misread:
        return misread(fact);
    case StudyWhat::not_right: {
        const auto verdict = studied_verdict(fact);
        return verdict && *verdict != Verdict::right_depth && *verdict != Verdict::not_judged;
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

PlaceWords words_of_place(IcePoint place, const MarkedMoment& moment, const Decision& decision,
                          const RuleBook& rules, const Parameters& parameters) {
    if (decision.on_post) {
        const bool right = at_post(place, moment.puck, rules);
        return {right, right ? "You: on the post, right depth."
                             : "You: off the post. At that sharp an angle depth does not matter."};
    }
    const double out_m = depth_m(place, moment.puck);
    if (!decision.advice) return {false, fmt::format("You: {:.2f} m out.", out_m)};
    const double deep = decision.advice->from_m - out_m, far = out_m - decision.advice->to_m;
    const double most = parameters.depth_tolerance_m;
    if (std::max(deep, far) <= most) return {true, fmt::format("You: {:.2f} m out, right depth.", out_m)};
    return {false, fmt::format("You: {:.2f} m out, {:.2f} m too {}.", out_m, std::max(deep, far),
                               far > deep ? "far out" : "deep")};
}

StudySum sum_of(std::span<const AnsweredMoment> answers, double depth_tolerance_m) {
    StudySum sum;
    for (const auto& [answer, came, puck] : answers) {
        if (const auto right = right_call(answer.read, came)) {
            ++sum.calls.of;
            sum.calls.right += *right;
        }
        if (answer.ice && puck && answer.advised_from_m && answer.advised_to_m) {
            const double out_m = depth_m(*answer.ice, *puck);
            ++sum.places.of;
            sum.places.right += out_m >= *answer.advised_from_m - depth_tolerance_m &&
                                out_m <= *answer.advised_to_m + depth_tolerance_m;
        }
    }
    return sum;
}

} // namespace ropeline
