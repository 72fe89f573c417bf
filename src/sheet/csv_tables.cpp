// The tables that are made of a season's tally rather than of its shots.
#include "rink/units.h"
#include "season/whole_file.h"
#include "sheet/csv_line.h"

#include <fmt/core.h>

namespace ropeline {
namespace {

void add_share(CsvLine& line, Share share) {
    if (share.of == 0) {
        line << std::optional<double>{} << std::optional<double>{} << std::optional<double>{};
        return;
    }
    const Interval interval = wilson(share.hits, share.of);
    line << static_cast<double>(share.hits) / share.of << interval.low << interval.high;
}

} // namespace

std::string groups_csv(const SeasonTally& tally) {
    std::string csv =
        "cut,group,logged_count,unblocked_count,on_goal_count,goals_count,goals_of_unblocked_share,"
        "wilson_95_low_share,wilson_95_high_share,goals_of_on_goal_share,on_goal_wilson_95_low_share,"
        "on_goal_wilson_95_high_share\r\n";
    for (const CutGroups& cut : tally.cuts)
        for (const Group& group : cut.groups) {
            CsvLine line;
            line << key_of(cut.cut) << std::string_view{group.label} << group.counts.logged
                 << group.counts.unblocked << group.counts.on_goal << group.counts.goals;
            add_share(line, group.counts.goals_of_unblocked());
            add_share(line, group.counts.goals_of_on_goal());
            line.end(csv);
        }
    return csv;
}

std::string shots_in_feet_csv(std::span<const ShotFact> facts, const Season& season) {
    std::string csv = "shot_id,game_date,goalie,period,clock_s,outcome,x_ft,y_ft\r\n";
    const double to_red_line_m = rule_book(season.rules).red_line_centre.m;
    for (const ShotFact& fact : facts) {
        if (!fact.puck_at) continue;
        CsvLine line;
        line << fact.shot_id << fact.game_date << fact.goalie << fact.period << fact.clock_s << fact.outcome
             << to_feet(to_red_line_m - fact.puck_at->y_m) << to_feet(fact.puck_at->x_m);
        line.end(csv);
    }
    return csv;
}

std::string agreement_csv(const ReviewAgreement& agreement) {
    std::string csv =
        "what,pairs_count,same_share,same_by_chance_share,kappa,kappa_95_low,kappa_95_high,mean_first_less_"
        "second_m,mean_95_low_m,mean_95_high_m,limits_95_low_m,limits_95_high_m\r\n";
    const std::optional<double> none;
    CsvLine line;
    for (const WordAgreement& word : agreement.words) {
        const Kappa& kappa = word.kappa;
        line << std::string_view{word.label} << kappa.pairs << kappa.observed << kappa.by_chance
             << kappa.value << kappa.interval.low << kappa.interval.high << none << none << none << none
             << none;
        line.end(csv);
    }
    if (const auto& depth = agreement.depth_m) {
        line << std::string_view{"depth"} << depth->pairs << none << none << none << none << none
             << depth->mean << depth->mean_interval.low << depth->mean_interval.high << depth->limits.low
             << depth->limits.high;
        line.end(csv);
    }
    return csv;
}

void write_csv_files(const std::filesystem::path& folder, const Season& season,
                     std::span<const ShotFact> facts, bool with_mark,
                     const std::optional<ReviewAgreement>& agreement) {
    const auto write = [&](const char* name, const std::string& csv) {
        write_whole_file(folder / name, std::string{with_mark ? byte_order_mark : std::string_view{}} + csv);
    };
    const auto tables = band_tables(facts);
    write("shots.csv", shots_csv(facts));
    write("shots_in_feet.csv", shots_in_feet_csv(facts, season));
    write("bands.csv", bands_csv(tables));
    write("verdicts.csv", verdicts_csv(tables));
    write("groups.csv", groups_csv(tally_season(facts)));
    if (agreement) write("agreement.csv", agreement_csv(*agreement));
}

} // namespace ropeline
