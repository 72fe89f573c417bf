#include "sheet/season_words.h"

#include "sheet/counted.h"
#include "sheet/share_words.h"
#include "sheet/text.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {
namespace {

std::string answer_words(const ComingOut& asked) {
    if (!asked.within_like_plays)
        return "not enough shots to say, since no like plays were met from both depths";
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
            "not enough shots to say ({}; about {} such attempts in all would narrow that to {} either way)",
            range_words(difference.interval), asked.attempts_needed.value_or(0), two_digits(worth_acting_on));
    }
    return {};
}

std::string half_sentence(std::string_view start, std::string_view kind, const ComingOut& asked) {
    if (asked.out.of + asked.inside.of == 0)
        return fmt::format("{} {} nothing is logged with a depth", start, kind);
    if (asked.out.of == 0 || asked.inside.of == 0) {
        const bool from_inside = asked.out.of == 0;
        return fmt::format("{} {} {} went in from {} and no attempt is logged from {}: nothing to compare",
                           start, kind, count_words(from_inside ? asked.inside : asked.out),
                           from_inside ? "inside" : "base or beyond",
                           from_inside ? "base or beyond" : "inside");
    }
    return fmt::format("{} {} {} went in from base or beyond and {} from inside: {}", start, kind,
                       count_words(asked.out), count_words(asked.inside), answer_words(asked));
}

/// Own choice. Of twenty attempts, ten from each depth, the narrowest interval there is, when none went in, reaches .28 to
/// either side (Wilson's upper bound of 0 of 10), five times what is worth acting on; of fewer it reaches further.
constexpr int fewest_attempts = 20;

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
    const double in_100 = 100.0 * decisions.exact_p;
    return fmt::format(
        "After the right depth {} went in, after any other verdict {}: {}; chance alone would part "
        "them so far in {} of 100 seasons. The verdict never looks at the outcome: a right depth can end in "
        "a "
        "goal, a wrong one in a save.",
        count_words(decisions.right), count_words(decisions.wrong), found,
        in_100 < 1.0 ? "fewer than 1" : fmt::format("{:.0f}", in_100));
}

std::string given_away_sentence(const OverGames& over) {
    if (!over.all.mean_interval) return {};
    std::string text = fmt::format("Where the goalie stood left {} of the net open beyond what the best spot "
                                   "leaves, on the mean of {} plays; summed, {:.2f} whole nets a game",
                                   given_away_words(over.all), over.all.plays, over.nets_a_game);
    std::vector<const GivenAway*> situations;
    for (const GivenAway& one : over.by_situation)
        if (one.plays >= 10 && one.label != "not known") situations.push_back(&one);
    if (situations.size() > 1) {
        const GivenAway& most = **std::ranges::max_element(situations, {}, &GivenAway::mean);
        text += fmt::format("; most in {}: {} over {} plays", most.label, given_away_words(most), most.plays);
    }
    return text + ".";
}

std::string trend_sentence(const OverGames& over) {
    if (!over.odds_ten_games_on || !over.half_difference) return {};
    const bool known = over.odds_interval.high < 1.0 || over.odds_interval.low > 1.0;
    return fmt::format("Game by game, every ten games the odds of a goal became {:.2f} times what they were "
                       "({:.2f} to {:.2f}){}; first half {}, second half {} ({}).",
                       *over.odds_ten_games_on, over.odds_interval.low, over.odds_interval.high,
                       known ? "" : ": not enough shots to say that they change",
                       count_words(over.first_half), count_words(over.second_half),
                       range_words(over.half_difference->interval));
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
        fmt::format("All at once, over {} attempts with {} goals", chance.attempts, chance.goals);
    if (chance.left_out > 0)
        text += fmt::format(" ({} more lack a depth, a place or what came)", chance.left_out);
    if (found.empty())
        return text +
               ", not enough shots to say whether the odds of a goal go with any of these: " + not_found +
               ".";
    text += ", the odds of a goal go with " + found + ".";
    if (!not_found.empty()) text += " Not enough shots to say: " + not_found + ".";
    return text;
}

std::string goalies_sentence(const std::vector<GoalieLine>& goalies) {
    if (goalies.size() < 2 || !goalies.front().shrunk) return {};
    const auto [least, most] =
        std::ranges::minmax_element(goalies, {}, [](const GoalieLine& line) { return line.shrunk->share; });
    if (most->shrunk->share - least->shrunk->share < 0.0005)
        return fmt::format(
            "The {} goalies differ by no more than chance alone makes: not enough shots to tell "
            "them apart, and each is best taken for {} goals of attempts.",
            goalies.size(), percentage_text(most->shrunk->share));
    const auto words = [](const GoalieLine& line) {
        const Interval& interval = line.shrunk->interval;
        return fmt::format("{} ({} to {})", percentage_text(line.shrunk->share),
                           percentage_text(interval.low), percentage_text(interval.high));
    };
    const bool apart = least->shrunk->interval.high < most->shrunk->interval.low;
    return fmt::format("Of {} goalies, each drawn towards all as far as the shots are few, {} has the fewest "
                       "goals of attempts, {}, and {} the most, {}{}.",
                       goalies.size(), printable(least->goalie), words(*least), printable(most->goalie),
                       words(*most), apart ? "" : ": not enough shots to tell even these two apart");
}

} // namespace

std::string first_sentence(const ComingOut& on_shots, const ComingOut& on_passes) {
    const int attempts = on_shots.out.of + on_shots.inside.of + on_passes.out.of + on_passes.inside.of;
    if (attempts == 0)
        return "Nothing can be said of depth yet: no attempt has a depth, an outcome and what came.";
    if (attempts < fewest_attempts)
        return counted(attempts, "shot") +
               " logged with a depth and an outcome: too few to say anything of depth yet.";
    return fmt::format("{}; {}.", half_sentence("On", "clear shots", on_shots),
                       half_sentence("on", "passes", on_passes));
}

std::string first_sentence(const SeasonTally& tally) {
    return first_sentence(tally.on_shots, tally.on_passes);
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
    return {"What goes together need not be cause: a goalie chooses the depth by the play, and likeness of "
            "plays is only goalie, situation and, on clear shots, distance.",
            "Ranges in brackets hold the truth in 95 of 100 seasons; of twenty comparisons one looks like "
            "something by chance alone.",
            "Figures of young players are private: hand this on only to those who coach them."};
}

std::vector<std::string> agreement_sentences(const ReviewAgreement& agreement) {
    std::vector<std::string> all{
        fmt::format("{} reviewed by both, {} only by the first, {} only by the second.",
                    agreement.pairs == 1 ? "1 shot was" : fmt::format("{} shots were", agreement.pairs),
                    agreement.only_first, agreement.only_second)};
    for (const WordAgreement& word : agreement.words)
        all.push_back(fmt::format("{}: the same in {:.0f} of 100 over {}, where chance would make "
                                  "{:.0f}; kappa {:.2f} ({:.2f} to "
                                  "{:.2f}).",
                                  word.label, 100.0 * word.kappa.observed, counted(word.kappa.pairs, "shot"),
                                  100.0 * word.kappa.by_chance, word.kappa.value, word.kappa.interval.low,
                                  word.kappa.interval.high));
    if (agreement.depth_m)
        all.push_back(
            fmt::format("depth: over {} the first's less the second's is {:+.2f} m on the mean "
                        "({:+.2f} to {:+.2f}), and 95 of 100 such differences lie within {:+.2f} to "
                        "{:+.2f} m.",
                        counted(agreement.depth_m->pairs, "shot"), agreement.depth_m->mean,
                        agreement.depth_m->mean_interval.low, agreement.depth_m->mean_interval.high,
                        agreement.depth_m->limits.low, agreement.depth_m->limits.high));
    return all;
}

} // namespace ropeline
