#include "sheet/season_words.h"

#include "sheet/text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

/// ".05"; the sign is left to the words.
std::string two_digits(double share) {
    const std::string text = fmt::format("{:.2f}", std::abs(share));
    return text.starts_with("0") ? text.substr(1) : text;
}

std::string count_words(Share share) {
    return fmt::format("{} of {}", share.hits, share.of);
}

/// ".03 fewer to .11 more"
std::string range_words(const Interval& interval) {
    const auto end = [](double value) {
        return fmt::format("{} {}", two_digits(value), value < 0.0 ? "fewer" : "more");
    };
    return fmt::format("{} to {}", end(interval.low), end(interval.high));
}

std::string sizes_words(const Difference& difference) {
    const double low = std::min(std::abs(difference.interval.low), std::abs(difference.interval.high));
    const double high = std::max(std::abs(difference.interval.low), std::abs(difference.interval.high));
    return fmt::format("{} ({} to {})", two_digits(difference.value), two_digits(low), two_digits(high));
}

std::string answer_words(const ComingOut& asked) {
    if (!asked.within_like_plays) return "not enough shots to say, since no like plays were met from both";
    const Difference& difference = *asked.within_like_plays;
    switch (asked.answer) {
    case DepthAnswer::fewer:
        return "in like plays fewer went in from further out, by " + sizes_words(difference);
    case DepthAnswer::more:
        return "in like plays more went in from further out, by " + sizes_words(difference);
    case DepthAnswer::no_matter:
        return fmt::format("in like plays no difference worth acting on ({})",
                           range_words(difference.interval));
    case DepthAnswer::not_enough:
        return fmt::format(
            "not enough shots to say ({}; about {} such attempts would tell a difference of {})",
            range_words(difference.interval), asked.attempts_needed.value_or(0), two_digits(worth_acting_on));
    }
    return {};
}

std::string half_sentence(std::string_view start, std::string_view kind, const ComingOut& asked) {
    if (asked.out.of + asked.inside.of == 0)
        return fmt::format("{} {} nothing is logged with a depth", start, kind);
    return fmt::format("{} {} {} went in from base or beyond and {} from inside: {}", start, kind,
                       count_words(asked.out), count_words(asked.inside), answer_words(asked));
}

std::string share_words(Share share) {
    const Interval interval = wilson(share.hits, share.of);
    return fmt::format("{}, {} ({} to {})", count_words(share),
                       percentage_text(static_cast<double>(share.hits) / share.of),
                       percentage_text(interval.low), percentage_text(interval.high));
}

std::string attempts_sentence(const SeasonTally& tally) {
    if (tally.total.unblocked == 0) return "No attempt with an outcome is logged.";
    std::string text =
        fmt::format("Of all unblocked attempts {} went in", share_words(tally.total.goals_of_unblocked()));
    if (tally.total.on_goal > 0)
        text += fmt::format("; of shots on goal {}", share_words(tally.total.goals_of_on_goal()));
    return text + ". Only what was logged is counted, and logged chances are not all chances.";
}

std::string decision_sentence(const DecisionByOutcome& decisions) {
    if (!decisions.difference) return {};
    const Interval& interval = decisions.difference->interval;
    const std::string found =
        interval.low > 0.0    ? fmt::format("more, by {}", sizes_words(*decisions.difference))
        : interval.high < 0.0 ? fmt::format("fewer, by {}", sizes_words(*decisions.difference))
                              : fmt::format("not enough shots to say ({})", range_words(interval));
    return fmt::format("After the right depth {} went in, after another {}: {}; chance alone would part them "
                       "so far in {:.0f} "
                       "of 100 seasons. The verdict never looks at the outcome: a right depth can end in a "
                       "goal, a wrong one in a save.",
                       count_words(decisions.right), count_words(decisions.wrong), found,
                       100.0 * decisions.exact_p);
}

std::string given_away_sentence(const OverGames& over) {
    if (over.all.plays == 0 || !over.all.mean_interval) return {};
    std::string text = fmt::format("Where he stood left {:.1f} % more of the net open a play than the best "
                                   "spot ({:.1f} to {:.1f}), over {} plays; summed, {:.2f} "
                                   "whole nets a game",
                                   100.0 * over.all.mean, 100.0 * std::max(0.0, over.all.mean_interval->low),
                                   100.0 * over.all.mean_interval->high, over.all.plays, over.nets_a_game);
    const auto most = std::ranges::max_element(over.by_situation, {}, [](const GivenAway& one) {
        return one.plays >= 10 && one.label != "not known" ? one.mean : -1.0;
    });
    if (most != over.by_situation.end() && most->plays >= 10 && over.by_situation.size() > 1)
        text += fmt::format("; most in {} ({:.1f} % over {} plays)", most->label, 100.0 * most->mean,
                            most->plays);
    return text + ".";
}

std::string trend_sentence(const OverGames& over) {
    if (!over.odds_ten_games_on || !over.half_difference) return {};
    const bool known = over.odds_interval.high < 1.0 || over.odds_interval.low > 1.0;
    return fmt::format("Game by game the odds of a goal went times {:.2f} every ten games ({:.2f} to "
                       "{:.2f}){}; first half {}, "
                       "second half {} ({}).",
                       *over.odds_ten_games_on, over.odds_interval.low, over.odds_interval.high,
                       known ? "" : ": not enough shots to say that it changes", count_words(over.first_half),
                       count_words(over.second_half), range_words(over.half_difference->interval));
}

std::string model_sentence(const GoalChance& chance) {
    std::string found, not_found;
    for (const Influence& one : chance.influences) {
        const bool known = one.odds_interval.high < 1.0 || one.odds_interval.low > 1.0;
        std::string& list = known ? found : not_found;
        if (!list.empty()) list += "; ";
        list += known ? fmt::format("{}: times {:.2f} ({:.2f} to {:.2f})", one.label, one.odds,
                                    one.odds_interval.low, one.odds_interval.high)
                      : one.label;
    }
    std::string text =
        fmt::format("All at once, over {} attempts with {} goals, the odds of a goal go with: {}.",
                    chance.attempts, chance.goals, found.empty() ? "nothing that so many can tell" : found);
    if (!not_found.empty()) text += " Not enough shots to say: " + not_found + ".";
    return text;
}

std::string goalies_sentence(const std::vector<GoalieLine>& goalies) {
    if (goalies.size() < 2 || !goalies.front().shrunk) return {};
    const auto by_share = [](const GoalieLine& line) { return line.shrunk ? line.shrunk->share : 0.0; };
    const auto [least, most] = std::ranges::minmax_element(goalies, {}, by_share);
    if (least->shrunk->interval.high >= most->shrunk->interval.low &&
        most->shrunk->share - least->shrunk->share < 0.005)
        return fmt::format("Between the {} goalies there is no more than chance makes: each is best taken "
                           "for {} of attempts.",
                           goalies.size(), percentage_text(most->shrunk->share));
    return fmt::format("Of {} goalies, each drawn towards all as far as his shots are few, {} has the fewest "
                       "goals of attempts ({}, "
                       "{} to {}) and {} the most ({}, {} to {}).",
                       goalies.size(), printable(least->goalie), percentage_text(least->shrunk->share),
                       percentage_text(least->shrunk->interval.low),
                       percentage_text(least->shrunk->interval.high), printable(most->goalie),
                       percentage_text(most->shrunk->share), percentage_text(most->shrunk->interval.low),
                       percentage_text(most->shrunk->interval.high));
}

} // namespace

std::string first_sentence(const SeasonTally& tally) {
    const auto attempts = [](const ComingOut& asked) { return asked.out.of + asked.inside.of; };
    if (attempts(tally.on_shots) + attempts(tally.on_passes) == 0)
        return "Nothing can be said of depth yet: no attempt has a depth, an outcome and what came.";
    return fmt::format("{}; {}.", half_sentence("On", "clear shots", tally.on_shots),
                       half_sentence("on", "passes", tally.on_passes));
}

std::vector<std::string> further_sentences(const SeasonTally& tally) {
    std::vector<std::string> all{attempts_sentence(tally),
                                 decision_sentence(tally.decisions),
                                 given_away_sentence(tally.over_games),
                                 tally.goal_chance ? model_sentence(*tally.goal_chance) : std::string{},
                                 goalies_sentence(tally.goalies),
                                 trend_sentence(tally.over_games)};
    std::erase(all, "");
    return all;
}

std::vector<std::string> cautions() {
    return {"What goes together need not be cause: a goalie chooses his depth by the play, and likeness of "
            "plays is only situation, "
            "distance and goalie.",
            "Ranges in brackets hold the truth in 95 of 100 seasons; of twenty comparisons one looks like "
            "something by chance alone.",
            "Figures of young players are private: hand this on only to those who coach them."};
}

std::vector<std::string> agreement_sentences(const ReviewAgreement& agreement) {
    std::vector<std::string> all{
        fmt::format("{} shots were reviewed by both, {} only by the first, {} only by the second.",
                    agreement.pairs, agreement.only_first, agreement.only_second)};
    for (const WordAgreement& word : agreement.words)
        all.push_back(fmt::format("{}: the same in {:.0f} of 100 over {} shots, where chance would make "
                                  "{:.0f}; kappa {:.2f} ({:.2f} to "
                                  "{:.2f}).",
                                  word.label, 100.0 * word.kappa.observed, word.kappa.pairs,
                                  100.0 * word.kappa.by_chance, word.kappa.value, word.kappa.interval.low,
                                  word.kappa.interval.high));
    if (agreement.depth_m)
        all.push_back(fmt::format("depth: the first's is {:+.2f} m beside the second's on the mean ({:+.2f} "
                                  "to {:+.2f}), and 95 of 100 "
                                  "differences lie within {:+.2f} to {:+.2f} m.",
                                  agreement.depth_m->mean, agreement.depth_m->mean_interval.low,
                                  agreement.depth_m->mean_interval.high, agreement.depth_m->limits.low,
                                  agreement.depth_m->limits.high));
    return all;
}

} // namespace ropeline
