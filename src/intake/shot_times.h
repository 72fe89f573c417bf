// A scorer's list of shots (a table of text) as shots to be filled: which column holds what, and what each
// row says. Pure: nothing is looked up in a season and nothing is kept.
#pragma once

#include "intake/csv_table.h"
#include "season/records.h"

#include <optional>
#include <string>
#include <vector>

namespace ropeline {

/// What a column of the list holds. The clock may be written as time left or as time gone in the period.
enum class ListColumn { unused, period, clock_left, clock_gone, film_time, x, y, outcome, goalie, note };
constexpr int list_columns = 10;
std::string_view label_of(ListColumn column);

/// Where places are measured from. From the net: x to the right and y up-ice, seen from the net. From the
/// middle of the rink: x along the ice, y across to its left; a place in either half is turned to the net of
/// its half.
enum class PlaceFrom { net, middle };

struct ListReading {
    std::vector<ListColumn> columns; ///< one for each column of the table; each but `unused` at most once
    bool has_head = false;           ///< the first row names the columns
    bool in_feet = false;
    PlaceFrom from = PlaceFrom::net;
};

/// What the columns most likely hold, from the words of the head and from the values.
ListReading guess_reading(const CsvTable& table);

/// The same with one column read otherwise; whichever held that before is then unused.
ListReading with_column(ListReading reading, std::size_t column, ListColumn holds);

struct ListedShot {
    std::size_t line = 1; ///< of the file
    std::optional<int> period;
    std::optional<double> clock_s; ///< left in the period
    std::optional<double> film_s;  ///< from the film's first frame
    std::optional<IcePoint> puck;
    std::optional<Outcome> outcome;
    std::string goalie, note;
};

struct RefusedRow {
    std::size_t line = 1;
    std::string why; ///< without the line: "the clock 25:10 is longer than a period"
};

struct ShotTimes {
    std::vector<ListedShot> shots; ///< in the order of the file
    std::vector<RefusedRow> refused;
};

/// Reads every row. A row is refused, with the first reason found, rather than read half.
ShotTimes read_shot_times(const CsvTable& table, const ListReading& reading, const RuleBook& rules);

/// "goal", "Saved", "blocked shot", "wide" ...: the outcome, however a scorer writes it; nothing for another
/// word.
std::optional<Outcome> outcome_in(std::string_view word);

} // namespace ropeline
