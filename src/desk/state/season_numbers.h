// All that the Season side says of the shots that are asked for, worked out at once: sentences, charts, the goalies' table.
// Pure, on any thread.
#pragma once

#include "desk/state/season_reader.h"
#include "season/records.h"
#include "sheet/season_charts.h"
#include "tally/filter.h"
#include "tally/goalie_rows.h"

#include <optional>
#include <string>
#include <vector>

namespace ropeline {

enum class CompareBy { nothing, goalies, halves, reviewers };
std::string_view label_of(CompareBy by);

/// What is laid side by side; of goalies their ids, of reviewers their names.
struct Comparison {
    CompareBy by = CompareBy::nothing;
    std::string first, second;
    friend bool operator==(const Comparison&, const Comparison&) = default;
};

struct SeasonAsk {
    FactFilter filter;
    Comparison comparison;
    friend bool operator==(const SeasonAsk&, const SeasonAsk&) = default;
};

/// One lot of shots: all that are asked for, or one side of a comparison.
struct SeasonColumn {
    std::string name; ///< of a side: "Ilse Tamm", "first half"
    std::size_t shots = 0;
    int games = 0;
    std::string first; ///< the sentence
    std::vector<std::string> further;
    std::vector<NamedChart> charts;
};

/// A goalie, a team or a reviewer that can be asked for.
struct Choice {
    std::string key, words;
};
struct SeasonChoices {
    std::vector<Choice> goalies; ///< key: the id; by name
    std::vector<std::string> teams, reviewers;
    std::string first_day, last_day; ///< of the games that have a date
};

struct SeasonNumbers {
    SharedFacts facts; ///< of the whole season
    SeasonAsk of;
    std::size_t shots = 0;
    std::vector<SeasonColumn> columns; ///< one, or the two that are compared
    std::vector<std::string> between;  ///< what stands between the two
    std::vector<NamedChart> shared;    ///< the two reviews against each other
    std::vector<GoalieRow> goalies;    ///< of the same shots, whichever goalie is asked for
    SeasonChoices choices;
};

/// The two that are compared when nobody has been chosen yet: the two of the most shots; nothing without two.
Comparison usual_comparison(CompareBy by, const SeasonNumbers& numbers);

/// Out     nothing when it was stopped.
std::optional<SeasonNumbers> season_numbers(const SharedFacts& facts, const Season& season,
                                            const SeasonAsk& ask, const WorkOnItsWay& way);

/// The goalie's name as he is chosen by: with his team where two have one name.
std::string goalie_words(const SeasonChoices& choices, const Id& goalie_id);

} // namespace ropeline
