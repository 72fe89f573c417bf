#include "intake/shot_times.h"

#include "intake/list_words.h"
#include "rink/units.h"
#include "season/trimmed.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {

namespace {

constexpr double period_s =
    1200.0; // NHL Rule 77.1, IIHF, USA Hockey, Hockey Canada: 20 minutes (from memory)
constexpr std::size_t rows_looked_at = 200;

/// What stands in a column below the head.
struct ColumnFacts {
    std::size_t filled = 0, periods = 0, clocks = 0, hours = 0, numbers = 0, outcomes = 0;
    double least = 0.0, most = 0.0;
    bool whole = true, rising = true;
    std::vector<std::string> words; ///< the different ones, up to ten

    bool all(std::size_t count) const { return filled > 0 && count == filled; }
};

void look_at(ColumnFacts& facts, const std::string& field, bool comma_decimals) {
    const std::string text{trimmed(field)};
    if (text.empty()) return;
    ++facts.filled;
    if (period_in(text)) ++facts.periods;
    if (const auto time = time_in(text, comma_decimals); time && text.find(':') != std::string::npos) {
        if (std::ranges::count(text, ':') == 2) ++facts.hours;
        if (*time <= period_s) ++facts.clocks;
    }
    if (const auto number = number_in(text, comma_decimals)) {
        if (facts.numbers > 0 && *number < facts.most) facts.rising = false;
        facts.least = facts.numbers == 0 ? *number : std::min(facts.least, *number);
        facts.most = facts.numbers == 0 ? *number : std::max(facts.most, *number);
        facts.whole = facts.whole && *number == std::round(*number);
        ++facts.numbers;
    }
    if (outcome_in(text)) ++facts.outcomes;
    if (facts.words.size() < 10 && std::ranges::find(facts.words, text) == facts.words.end())
        facts.words.push_back(text);
}

ColumnFacts facts_of(const CsvTable& table, std::size_t column, bool has_head) {
    ColumnFacts facts;
    for (std::size_t row = has_head ? 1 : 0; row < std::min(table.rows.size(), rows_looked_at); ++row) {
        const auto& fields = table.rows[row].fields;
        if (column < fields.size()) look_at(facts, fields[column], table.separator == ';');
    }
    return facts;
}

/// The first row names columns when none of its fields is a number, a time or a period, and one is a word
/// that names a column or a number stands under one.
bool has_head(const CsvTable& table) {
    const bool comma = table.separator == ';';
    const auto& first = table.rows.front().fields;
    bool named = false;
    for (std::size_t column = 0; column < first.size(); ++column) {
        const std::string text{trimmed(first[column])};
        if (text.empty()) continue;
        if (number_in(text, comma) || time_in(text, comma)) return false;
        if (column_named(text)) {
            named = true;
        } else if (outcome_in(text) || period_in(text)) {
            return false;
        }
        const ColumnFacts below = facts_of(table, column, true);
        named = named || below.all(below.numbers) || below.all(below.clocks);
    }
    return named;
}

/// Periods and outcomes speak for themselves; what a time is depends on whether there are periods.
ListColumn guess_sure(const ColumnFacts& facts) {
    if (facts.all(facts.periods)) return ListColumn::period;
    return facts.all(facts.outcomes) ? ListColumn::outcome : ListColumn::unused;
}

ListColumn guess_by_values(const ColumnFacts& facts, const std::vector<ListColumn>& taken) {
    const auto has = [&](ListColumn one) { return std::ranges::find(taken, one) != taken.end(); };
    if (facts.filled == 0) return ListColumn::unused;
    if (facts.all(facts.clocks) && facts.hours == 0 && has(ListColumn::period) &&
        !has(ListColumn::clock_left) && !has(ListColumn::clock_gone))
        return ListColumn::clock_left;
    const bool film_times = facts.all(facts.clocks) || facts.hours > 0 ||
                            (facts.all(facts.numbers) && facts.rising && facts.most > 60.0);
    if (film_times && !has(ListColumn::film_time)) return ListColumn::film_time;
    if (facts.all(facts.numbers) && facts.most < 210.0 && facts.least > -210.0)
        return !has(ListColumn::x) ? ListColumn::x : !has(ListColumn::y) ? ListColumn::y : ListColumn::unused;
    if (facts.numbers > 0) return ListColumn::unused;
    const bool few = facts.words.size() <= 4 && facts.filled > 2 * facts.words.size();
    if (few && !has(ListColumn::goalie)) return ListColumn::goalie;
    return has(ListColumn::note) ? ListColumn::unused : ListColumn::note;
}

/// Feet or metres, net or middle of the rink, from how far the places reach.
void guess_places(ListReading& reading, const CsvTable& table) {
    ColumnFacts x;
    ColumnFacts y;
    for (std::size_t column = 0; column < reading.columns.size(); ++column) {
        if (reading.columns[column] == ListColumn::x) x = facts_of(table, column, reading.has_head);
        if (reading.columns[column] == ListColumn::y) y = facts_of(table, column, reading.has_head);
        if (reading.columns[column] != ListColumn::x && reading.columns[column] != ListColumn::y) continue;
        if (reading.has_head && column < table.rows.front().fields.size())
            reading.in_feet = reading.in_feet || names_feet(table.rows.front().fields[column]);
    }
    const double across = std::max(std::abs(x.least), std::abs(x.most));
    const double along = std::max(std::abs(y.least), std::abs(y.most));
    reading.in_feet = reading.in_feet || across > 31.0 || along > 60.0; // half a rink's length, a rink's
    const double unit_m = reading.in_feet ? metres_per_foot : 1.0;
    if (across * unit_m > 15.6 || y.least * unit_m < -4.6) reading.from = PlaceFrom::middle;
}

struct Refusal {
    std::string why;
};

/// One row being read.
struct Row {
    const CsvRow& source;
    const ListReading& reading;
    bool comma_decimals = false;

    std::string text(ListColumn wanted) const {
        for (std::size_t column = 0; column < reading.columns.size(); ++column) {
            if (reading.columns[column] == wanted && column < source.fields.size())
                return std::string{trimmed(source.fields[column])};
        }
        return {};
    }
};

void read_period(ListedShot& shot, const Row& row) {
    const std::string text = row.text(ListColumn::period);
    if (text.empty()) return;
    shot.period = period_in(text);
    if (!shot.period)
        throw Refusal{fmt::format("\"{}\" is no period: write 1, 2, 3, or OT for the fourth", text)};
}

void read_clock(ListedShot& shot, const Row& row) {
    const std::string left = row.text(ListColumn::clock_left);
    const std::string gone = row.text(ListColumn::clock_gone);
    const std::string& text = left.empty() ? gone : left;
    if (text.empty()) return;
    const auto time = time_in(text, row.comma_decimals);
    if (!time) throw Refusal{fmt::format("\"{}\" is no clock: write minutes and seconds, 12:34", text)};
    if (*time > period_s) throw Refusal{fmt::format("the clock {} is longer than a period", text)};
    shot.clock_s = left.empty() ? period_s - *time : *time;
}

void read_film_time(ListedShot& shot, const Row& row) {
    const std::string text = row.text(ListColumn::film_time);
    if (text.empty()) return;
    shot.film_s = time_in(text, row.comma_decimals);
    if (!shot.film_s)
        throw Refusal{fmt::format("\"{}\" is no film time: write seconds, m:ss or h:mm:ss", text)};
}

IcePoint on_our_ice(double x_m, double y_m, PlaceFrom from, const RuleBook& rules) {
    if (from == PlaceFrom::net) return {x_m, y_m};
    const double goal_line_m = rules.red_line_centre.m;
    return x_m >= 0.0 ? IcePoint{y_m, goal_line_m - x_m} : IcePoint{-y_m, goal_line_m + x_m};
}

void read_place(ListedShot& shot, const Row& row, const RuleBook& rules) {
    const std::string x_text = row.text(ListColumn::x);
    const std::string y_text = row.text(ListColumn::y);
    if (x_text.empty() && y_text.empty()) return;
    const auto x = number_in(x_text, row.comma_decimals);
    const auto y = number_in(y_text, row.comma_decimals);
    if (!x || !y) throw Refusal{fmt::format("the place \"{}\", \"{}\" is not two numbers", x_text, y_text)};
    const double unit_m = row.reading.in_feet ? metres_per_foot : 1.0;
    const IcePoint at = on_our_ice(*x * unit_m, *y * unit_m, row.reading.from, rules);
    const double behind_m = rules.goal_line_to_boards.m;
    const bool on_ice = std::abs(at.x_m) <= 0.5 * rules.rink_width.m && at.y_m >= -behind_m &&
                        at.y_m <= rules.rink_length.m - behind_m;
    if (!on_ice)
        throw Refusal{fmt::format("the place {}, {} {} is not on the ice", x_text, y_text,
                                  row.reading.in_feet ? "ft" : "m")};
    shot.puck = at;
}

void read_outcome(ListedShot& shot, const Row& row) {
    const std::string text = row.text(ListColumn::outcome);
    if (text.empty()) return;
    shot.outcome = outcome_in(text);
    if (!shot.outcome)
        throw Refusal{fmt::format("the outcome \"{}\" is not known; known are goal, save, save with rebound, "
                                  "post, miss or wide, block, no shot",
                                  text)};
}

ListedShot shot_in(const Row& row, const RuleBook& rules) {
    ListedShot shot;
    shot.line = row.source.line;
    if (row.source.fields.size() > row.reading.columns.size())
        throw Refusal{fmt::format("{} fields where the list has {}: is a quotation mark missing?",
                                  row.source.fields.size(), row.reading.columns.size())};
    read_period(shot, row);
    read_clock(shot, row);
    read_film_time(shot, row);
    read_place(shot, row, rules);
    read_outcome(shot, row);
    shot.goalie = row.text(ListColumn::goalie);
    shot.note = row.text(ListColumn::note);
    if (shot.note.size() > 4000) throw Refusal{"the note is longer than 4000 characters"};
    if (shot.clock_s && !shot.period) throw Refusal{"there is a clock but no period"};
    if (!shot.film_s && !shot.clock_s)
        throw Refusal{"there is neither a film time nor a period with its clock"};
    return shot;
}

} // namespace

std::string_view label_of(ListColumn column) {
    constexpr std::array<std::string_view, list_columns> labels = {
        "not used", "period",  "clock, time left", "clock, time gone", "film time",
        "place x",  "place y", "outcome",          "goalie",           "note"};
    return labels.at(static_cast<std::size_t>(column));
}

ListReading guess_reading(const CsvTable& table) {
    ListReading reading;
    if (table.rows.empty()) return reading;
    reading.has_head = has_head(table);
    std::size_t width = 0;
    for (std::size_t row = 0; row < std::min(table.rows.size(), rows_looked_at); ++row)
        width = std::max(width, table.rows[row].fields.size());
    if (reading.has_head) width = std::max<std::size_t>(1, table.rows.front().fields.size());
    reading.columns.assign(width, ListColumn::unused);
    const auto taken = [&](ListColumn one) {
        return std::ranges::find(reading.columns, one) != reading.columns.end();
    };
    if (reading.has_head) {
        for (std::size_t column = 0; column < width; ++column) {
            const auto named = column_named(table.rows.front().fields[column]);
            if (named && !taken(*named)) reading.columns[column] = *named;
        }
        // A head that says no more than "time": the clock where there are periods and it fits one.
        for (std::size_t column = 0; column < width; ++column) {
            if (reading.columns[column] != ListColumn::unused ||
                !names_some_time(table.rows.front().fields[column]))
                continue;
            const ColumnFacts facts = facts_of(table, column, true);
            const bool clock = taken(ListColumn::period) && !taken(ListColumn::clock_left) &&
                               !taken(ListColumn::clock_gone) && facts.all(facts.clocks) && facts.hours == 0;
            if (clock) {
                reading.columns[column] = ListColumn::clock_left;
            } else if (!taken(ListColumn::film_time)) {
                reading.columns[column] = ListColumn::film_time;
            }
        }
    } else {
        std::vector<ColumnFacts> facts;
        for (std::size_t column = 0; column < width; ++column) {
            facts.push_back(facts_of(table, column, false));
            const ListColumn sure = guess_sure(facts.back());
            if (sure != ListColumn::unused && !taken(sure)) reading.columns[column] = sure;
        }
        for (std::size_t column = 0; column < width; ++column) {
            if (reading.columns[column] == ListColumn::unused)
                reading.columns[column] = guess_by_values(facts[column], reading.columns);
        }
    }
    if (taken(ListColumn::x) != taken(ListColumn::y)) {
        std::ranges::replace(reading.columns, ListColumn::x, ListColumn::unused);
        std::ranges::replace(reading.columns, ListColumn::y, ListColumn::unused);
    }
    guess_places(reading, table);
    return reading;
}

ListReading with_column(ListReading reading, std::size_t column, ListColumn holds) {
    if (column >= reading.columns.size()) return reading;
    std::ranges::replace(reading.columns, holds, ListColumn::unused);
    reading.columns[column] = holds;
    return reading;
}

ShotTimes read_shot_times(const CsvTable& table, const ListReading& reading, const RuleBook& rules) {
    ShotTimes times;
    for (std::size_t index = reading.has_head ? 1 : 0; index < table.rows.size(); ++index) {
        const CsvRow& source = table.rows[index];
        try {
            times.shots.push_back(shot_in({source, reading, table.separator == ';'}, rules));
        } catch (const Refusal& refusal) {
            times.refused.push_back({source.line, refusal.why});
        }
    }
    return times;
}

} // namespace ropeline
