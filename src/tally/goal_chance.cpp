#include "tally/goal_chance.h"

#include "rink/units.h"
#include "tally/decision.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {
namespace {

enum Column {
    constant,
    clear_shot_depth,
    pass_depth,
    pass,
    off_angle,
    distance,
    net_angle,
    sight,
    column_count
};

struct ColumnWords {
    const char* label;
    double unit; ///< what the odds are told for
};
constexpr std::array<ColumnWords, column_count> column_words{
    {{"", 1.0},
     {"half a metre further out, on a clear shot", 0.5},
     {"half a metre further out, on a pass", 0.5},
     {"a pass rather than a clear shot, from the crease's edge", 1.0},
     {"ten centimetres more off the angle", 0.1},
     {"a metre further away", 1.0},
     {"a degree more of net in the puck's eye", pi / 180.0},
     {"partly or wholly screened", 1.0}}};

constexpr int most_for_profile = 20'000;

using ChanceRow = std::array<double, column_count>;

std::optional<ChanceRow> row_of(const ShotFact& fact) {
    const auto came = what_came(fact);
    const auto clearance = decision_of(fact).clearance_m;
    const auto away = shot_distance_m(fact);
    if (!came || !clearance || !away || !fact.off_angle_m || !fact.net_angle_rad) return std::nullopt;
    const bool passed = came == NextAction::pass;
    const auto seen = key_of(fact.details, Detail::sight);
    return ChanceRow{1.0,
                     passed ? 0.0 : *clearance,
                     passed ? *clearance : 0.0,
                     passed ? 1.0 : 0.0,
                     std::abs(*fact.off_angle_m),
                     *away,
                     *fact.net_angle_rad,
                     seen == "partly" || seen == "screened" ? 1.0 : 0.0};
}

struct Rows {
    std::vector<ChanceRow> rows;
    std::vector<bool> goals;
    int left_out = 0;
};

Rows rows_of(std::span<const ShotFact> facts) {
    Rows made;
    for (const ShotFact& fact : facts) {
        const auto goal = was_goal(fact);
        if (!goal) continue;
        if (const auto row = row_of(fact)) {
            made.rows.push_back(*row);
            made.goals.push_back(*goal);
        } else {
            ++made.left_out;
        }
    }
    return made;
}

/// The columns that vary, the constant first.
std::vector<int> columns_of(const Rows& rows) {
    std::vector<int> kept{constant};
    for (int column = 1; column < column_count; ++column) {
        const auto at = static_cast<std::size_t>(column);
        const bool varies = std::ranges::any_of(rows.rows, [&](const ChanceRow& row) {
            return std::abs(row[at] - rows.rows.front()[at]) > 1e-9;
        });
        if (varies) kept.push_back(column);
    }
    return kept;
}

std::vector<double> only(const ChanceRow& row, const std::vector<int>& columns) {
    std::vector<double> kept;
    for (const int column : columns)
        kept.push_back(row[static_cast<std::size_t>(column)]);
    return kept;
}

ChanceRow middle_of(const Rows& rows) {
    ChanceRow middle{};
    for (const ChanceRow& row : rows.rows)
        for (std::size_t i = 0; i < row.size(); ++i)
            middle[i] += row[i] / static_cast<double>(rows.rows.size());
    return middle;
}

std::vector<ChanceAt> curve_of(const Rows& rows, const std::vector<int>& columns, const LogisticFit& fit,
                               bool passed) {
    const auto depth = static_cast<std::size_t>(passed ? pass_depth : clear_shot_depth);
    std::vector<double> seen;
    for (const ChanceRow& row : rows.rows)
        if ((row[pass] > 0.5) == passed) seen.push_back(row[depth]);
    if (seen.size() < 10) return {};
    std::ranges::sort(seen);
    // Without the outermost twentieth at either end, where a curve is only its formula.
    const double from = seen[seen.size() / 20], to = seen[seen.size() - 1 - seen.size() / 20];
    ChanceRow row = middle_of(rows);
    row[clear_shot_depth] = row[pass_depth] = 0.0;
    row[pass] = passed ? 1.0 : 0.0;
    std::vector<ChanceAt> curve;
    constexpr int steps = 40;
    for (int i = 0; i <= steps; ++i) {
        row[depth] = from + (to - from) * i / steps;
        curve.push_back({row[depth], chance_at(fit, only(row, columns))});
    }
    return curve;
}

Interval wald(const LogisticFit& fit, int column) {
    const double middle = fit.beta[static_cast<std::size_t>(column)],
                 half = normal_975 * fit.standard_error(column);
    return {middle - half, middle + half};
}

} // namespace

std::optional<GoalChance> goal_chance(std::span<const ShotFact> facts) {
    const Rows rows = rows_of(facts);
    GoalChance made;
    made.attempts = static_cast<int>(rows.rows.size());
    made.goals = static_cast<int>(std::ranges::count(rows.goals, true));
    made.left_out = rows.left_out;
    if (made.attempts < 30 || made.goals < 5 || made.attempts - made.goals < 5) return std::nullopt;
    const auto columns = columns_of(rows);
    LogisticData data{static_cast<int>(columns.size()), {}, {}, {}};
    for (std::size_t i = 0; i < rows.rows.size(); ++i)
        data.add(only(rows.rows[i], columns), rows.goals[i]);
    const LogisticFit fit = fit_logistic(data, Penalty::firth);
    if (!fit.converged) return std::nullopt;
    made.from_profile = made.attempts <= most_for_profile;
    for (int column = 1; column < data.columns; ++column) {
        const auto& words =
            column_words.at(static_cast<std::size_t>(columns[static_cast<std::size_t>(column)]));
        const Interval interval =
            made.from_profile ? profile_interval(data, fit, Penalty::firth, column) : wald(fit, column);
        made.influences.push_back(
            {words.label,
             std::exp(words.unit * fit.beta[static_cast<std::size_t>(column)]),
             {std::exp(words.unit * interval.low), std::exp(words.unit * interval.high)}});
    }
    const LogisticFit with_constant = with_refitted_constant(data, fit);
    made.on_shots = curve_of(rows, columns, with_constant, false);
    made.on_passes = curve_of(rows, columns, with_constant, true);
    return made;
}

} // namespace ropeline
