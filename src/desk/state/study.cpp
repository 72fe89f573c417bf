#include "desk/state/study.h"

#include "season/come_back.h"
#include "season/dates.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <string_view>
#include <tuple>
#include <unordered_set>

namespace ropeline {

namespace {

/// What came after the main moment: after a pass that has a moment of its own, the shot.
std::optional<NextAction> came_of_main(const ShotFact& fact) {
    if (fact.moment_kind == MomentKind::pass) return NextAction::pass;
    if (fact.came == NextAction::pass && fact.pass) return NextAction::shot;
    return fact.came;
}

StudyDecision play_of_fact(const ShotFact& fact, const std::set<Id>& films_there) {
    StudyDecision one;
    one.shot_id = fact.shot_id;
    one.goalie_id = fact.goalie_id;
    one.game_id = fact.game_id;
    one.game_date = fact.game_date;
    one.home = fact.home_team;
    one.away = fact.away_team;
    one.goalie = fact.goalie;
    one.tags = fact.tags;
    one.period = fact.period;
    one.clock_s = fact.clock_s;
    if (!fact.film_id.empty()) one.film_s = fact.film_s;
    one.situation = fact.situation;
    one.outcome = fact.outcome;
    one.on_film = !fact.film_id.empty() && films_there.contains(fact.film_id);
    return one;
}

} // namespace

std::vector<StudyDecision> decisions_of(std::span<const ShotFact> facts, const std::set<Id>& films_there) {
    std::vector<StudyDecision> all;
    for (const ShotFact& fact : facts) {
        if (!fact.depth_m) continue;
        const bool read_at_pass = fact.came == NextAction::pass && fact.pass;
        StudyDecision main = play_of_fact(fact, films_there);
        main.moment_id = fact.moment_id;
        main.came = came_of_main(fact);
        main.verdict = fact.overruled ? fact.overruled : fact.verdict;
        if (!read_at_pass) main.read = fact.read;
        if (fact.pass) {
            StudyDecision at_pass = play_of_fact(fact, films_there);
            at_pass.moment_id = fact.pass->moment_id;
            at_pass.came = NextAction::pass;
            at_pass.verdict = fact.pass->overruled ? fact.pass->overruled : fact.pass->verdict;
            if (read_at_pass) at_pass.read = fact.read;
            all.push_back(std::move(at_pass));
        }
        all.push_back(std::move(main));
    }
    return all;
}

bool misread_in_game(const StudyDecision& decision) {
    return (decision.read == Read::shot && decision.came == NextAction::pass) ||
           (decision.read == Read::pass && decision.came == NextAction::shot);
}

bool wrong_in_game(const StudyDecision& decision) {
    return misread_in_game(decision) || (decision.verdict && *decision.verdict != Verdict::right_depth &&
                                         *decision.verdict != Verdict::not_judged);
}

std::string_view label_of(StudyWhat what) {
    constexpr std::array<std::string_view, study_whats> labels = {"due today", "unanswered", "answered wrong",
                                                                  "wrong in the game", "every decision"};
    return labels.at(static_cast<std::size_t>(what));
}

std::map<Id, AnsweredSoFar> answered_by(std::span<const Answer> answers, const std::string& who) {
    std::map<Id, AnsweredSoFar> so_far;
    std::map<Id, std::string> last_at;
    for (const Answer& answer : answers) {
        if (answer.answered_by != who) continue;
        AnsweredSoFar& one = so_far[answer.moment_id];
        ++one.times;
        std::string& at = last_at[answer.moment_id];
        if (answer.answered_at < at) continue;
        at = answer.answered_at;
        one.wrong = answered_wrong(answer);
        one.due_on = answer.due_on;
        one.last_on = day_of(answer.answered_at);
    }
    return so_far;
}

namespace {

/// FNV-1a, 64 bits. Source: Fowler, Noll, Vo; draft-eastlake-fnv.
std::uint64_t shuffled(const std::string& day, const Id& moment_id) {
    std::uint64_t hash = 0xcbf29ce484222325U;
    for (const std::string* part : {&day, &moment_id}) {
        for (const char letter : *part)
            hash = (hash ^ static_cast<unsigned char>(letter)) * 0x100000001b3U;
    }
    return hash;
}

bool has_tag(const std::string& tags, const std::string& tag) {
    return (", " + tags + ", ").find(", " + tag + ", ") != std::string::npos;
}

bool lets_through(const StudyFilter& filter, const StudyDecision& one) {
    if (!filter.goalie_id.empty() && one.goalie_id != filter.goalie_id) return false;
    if (!filter.game_id.empty() && one.game_id != filter.game_id) return false;
    if (filter.situation && one.situation != filter.situation) return false;
    if (filter.goals && one.outcome != Outcome::goal) return false;
    if (one.game_date < filter.since) return false;
    return filter.tag.empty() || has_tag(one.tags, filter.tag);
}

bool is_asked(StudyWhat what, const StudyDecision& one, const AnsweredSoFar& so_far, const std::string& day) {
    switch (what) {
    case StudyWhat::due:
        return !so_far.due_on.empty() && so_far.due_on <= day;
    case StudyWhat::unanswered:
        return so_far.times == 0;
    case StudyWhat::answered_wrong:
        return so_far.wrong;
    case StudyWhat::wrong_in_game:
        return wrong_in_game(one);
    case StudyWhat::all:
        break;
    }
    return true;
}

bool read_right(const StudyDecision& one) {
    return one.read && !misread_in_game(one) &&
           (one.came == NextAction::shot || one.came == NextAction::pass);
}

/// A decision with its place in the order of the day, which is worked out once and not each time two are compared.
struct Dealt {
    std::uint64_t place = 0;
    const StudyDecision* one = nullptr;
    bool operator<(const Dealt& other) const {
        return std::tie(place, one->moment_id) < std::tie(other.place, other.one->moment_id);
    }
};

/// In      `others`: what the list would not hold and was read right, in order.
void mix_in_right_reads(std::vector<Dealt>& list, const std::vector<Dealt>& others, StudyQueue& queue) {
    const auto is_right = [](const Dealt& dealt) { return read_right(*dealt.one); };
    const auto is_misread = [](const Dealt& dealt) { return misread_in_game(*dealt.one); };
    const auto wanted = std::ranges::count_if(list, is_misread) - std::ranges::count_if(list, is_right);
    const auto mixed_in = std::clamp<std::ptrdiff_t>(wanted, 0, std::ssize(others));
    list.insert(list.end(), others.begin(), others.begin() + mixed_in);
    queue.mixed_in = static_cast<int>(mixed_in);
}

/// In      the plays of which a decision was answered today, and those decisions.
void ask_one_of_a_play(StudyQueue& queue, const std::vector<Dealt>& list, const std::set<Id>& plays_seen,
                       const std::set<Id>& answered) {
    std::unordered_set<std::string_view> plays;
    for (const auto& [place, one] : list) {
        const bool other_seen = plays_seen.contains(one->shot_id) && !answered.contains(one->moment_id);
        if (!other_seen && plays.insert(one->shot_id).second)
            queue.decisions.push_back(*one);
        else
            ++queue.held_back;
    }
}

} // namespace

StudyQueue study_queue(std::span<const StudyDecision> all, const StudyFilter& filter,
                       const std::map<Id, AnsweredSoFar>& so_far, const std::string& day) {
    StudyQueue queue;
    std::vector<Dealt> list, others;
    std::set<Id> plays_seen, answered_today;
    for (const StudyDecision& one : all) {
        const auto found = so_far.find(one.moment_id);
        const AnsweredSoFar of_it = found == so_far.end() ? AnsweredSoFar{} : found->second;
        if (of_it.last_on == day) {
            plays_seen.insert(one.shot_id);
            answered_today.insert(one.moment_id);
        }
        if (!lets_through(filter, one)) continue;
        const bool asked = is_asked(filter.what, one, of_it, day);
        if (!one.on_film && !filter.without_film) {
            queue.without_film += asked ? 1 : 0;
        } else if (asked || (filter.what == StudyWhat::wrong_in_game && read_right(one))) {
            (asked ? list : others).push_back({shuffled(day, one.moment_id), &one});
        }
    }
    std::sort(others.begin(), others.end());
    mix_in_right_reads(list, others, queue);
    std::sort(list.begin(), list.end());
    ask_one_of_a_play(queue, list, plays_seen, answered_today);
    return queue;
}

} // namespace ropeline
