#include "sheet/shot_words.h"

#include "season/clock_words.h"
#include "sheet/text.h"
#include "tally/decision.h"

#include <fmt/core.h>

namespace ropeline {
namespace {

void add_word(std::string& words, std::string_view word) {
    if (!word.empty()) words += fmt::format("{}{}", words.empty() ? "" : ", ", word);
}

std::string game_words_of(const ShotFact& fact) {
    std::string words = printable(fact.goalie.empty() ? "no goalie named" : fact.goalie);
    add_word(words, fact.game_date);
    if (!fact.home_team.empty() || !fact.away_team.empty())
        add_word(words, fmt::format("{} - {}", printable(fact.home_team), printable(fact.away_team)));
    return words;
}

std::string time_words_of(const ShotFact& fact) {
    if (fact.clock_s) return game_time_words(fact.period, *fact.clock_s);
    std::string words = fact.period ? fmt::format("period {}", *fact.period) : "";
    add_word(words, fact.film_id.empty() ? std::string{"on no film yet"}
                                         : fmt::format("{} of the film", clock_words(fact.film_s)));
    return words;
}

std::string decision_words_of(const ShotFact& fact) {
    const CountedDecision decision = decision_of(fact);
    if (!decision.band) return "no depth yet";
    const double depth_m = fact.pass ? fact.pass->depth_m : fact.depth_m.value_or(0.0);
    std::string words =
        fmt::format("{:.2f} m out{}, {}", depth_m, fact.pass ? " at the pass" : "", label_of(*decision.band));
    if (decision.verdict) add_word(words, label_of(*decision.verdict));
    return words;
}

} // namespace

std::string verdict_words(const std::array<int, 8>& by_verdict) {
    std::string words;
    for (std::size_t verdict = 0; verdict < by_verdict.size(); ++verdict)
        if (by_verdict[verdict] > 0)
            add_word(words,
                     fmt::format("{} {}", by_verdict[verdict], label_of(static_cast<Verdict>(verdict))));
    return words;
}

std::string filter_words(const FactFilter& filter, const std::string& goalie) {
    std::string words;
    add_word(words, goalie.empty() ? filter.goalie : goalie);
    add_word(words, filter.team);
    if (filter.situation) add_word(words, label_of(*filter.situation));
    if (filter.came) add_word(words, label_of(*filter.came));
    if (filter.verdict) add_word(words, label_of(*filter.verdict));
    if (filter.goals) add_word(words, "goals");
    if (!filter.from.empty()) add_word(words, "from " + filter.from);
    if (!filter.to.empty()) add_word(words, "to " + filter.to);
    if (filter.area)
        add_word(words, fmt::format("shot from {:.1f} to {:.1f} m across and {:.1f} to {:.1f} m out",
                                    filter.area->low.x_m, filter.area->high.x_m, filter.area->low.y_m,
                                    filter.area->high.y_m));
    return words;
}

std::string shot_words(const ShotFact& fact) {
    std::string end{fact.outcome ? label_of(*fact.outcome) : "no outcome yet"};
    if (fact.situation) add_word(end, label_of(*fact.situation));
    return fmt::format("{}\n{}\n{}\n{}", game_words_of(fact), time_words_of(fact), decision_words_of(fact),
                       end);
}

} // namespace ropeline
