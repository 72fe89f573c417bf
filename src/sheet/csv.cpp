#include "sheet/csv.h"

#include "sheet/csv_line.h"

#include <fmt/core.h>

namespace ropeline {
namespace {

std::optional<double> x_of(const std::optional<IcePoint>& at) {
    return at ? std::optional{at->x_m} : std::nullopt;
}
std::optional<double> y_of(const std::optional<IcePoint>& at) {
    return at ? std::optional{at->y_m} : std::nullopt;
}

void add_review(CsvLine& line, std::optional<Verdict> model, std::optional<Verdict> overruled,
                const std::string& reason) {
    line << overruled << reason << (overruled ? overruled : model);
}

void add_pass(CsvLine& line, const std::optional<ShotFact::PassFact>& pass) {
    const auto said = pass.value_or(ShotFact::PassFact{});
    line << said.moment_id << (pass ? std::optional{said.depth_m} : std::nullopt)
         << (pass ? std::optional{said.clearance_m} : std::nullopt)
         << (pass ? std::optional{said.band} : std::nullopt) << said.advised_from_m << said.advised_to_m
         << said.depth_error_m << said.gave_away << said.came_open << said.came_open_best
         << said.least_spare_s << said.verdict << said.firm;
    add_review(line, said.verdict, said.overruled, said.overrule_reason);
}

std::string details_head() {
    std::string head;
    for (const DetailFact& fact : detail_facts())
        head += fmt::format("{},", fact.key);
    return head +
           "attackers,defenders,rebound_shot_id,shooter_number,drill,tagged_by,tags,took_x_m,took_y_m,";
}

void add_details(CsvLine& line, const ShotFact& fact) {
    for (int index = 0; index < detail_count; ++index)
        line << key_of(fact.details, static_cast<Detail>(index));
    const auto numbers = numbers_of(fact.details);
    line << (numbers ? std::optional{numbers->attackers} : std::nullopt)
         << (numbers ? std::optional{numbers->defenders} : std::nullopt) << fact.rebound_shot_id
         << fact.shooter_number << fact.drill << fact.tagged_by << fact.tags << x_of(fact.took_at)
         << y_of(fact.took_at);
}

void add_band(std::string& csv, const GoalieTable& table, std::string_view band, const Counts& counts) {
    const auto interval = counts.interval();
    CsvLine line;
    line << table.goalie_id << table.goalie << table.team << band << counts.logged << counts.shots
         << counts.on_goal << counts.saves() << counts.goals << counts.save_percentage()
         << (interval ? std::optional{interval->low} : std::nullopt)
         << (interval ? std::optional{interval->high} : std::nullopt);
    line.end(csv);
}

} // namespace

std::string csv_field(std::string_view text) {
    std::string field{text};
    if (!field.empty() && std::string_view{"=+-@\t\r\n"}.find(field.front()) != std::string_view::npos)
        field.insert(field.begin(), '\'');
    if (field.find_first_of(",\"\r\n") == std::string::npos) return field;
    std::string quoted = "\"";
    for (const char c : field)
        quoted += c == '"' ? std::string{"\"\""} : std::string{c};
    return quoted + "\"";
}

std::string shots_csv(std::span<const ShotFact> facts) {
    std::string csv =
        "shot_id,game_id,goalie_id,film_id,game_date,home_team,away_team,goalie,team,period,clock_s,frame,"
        "film_s,"
        "read,came,situation,strength,outcome,on_goal,saved," +
        details_head() +
        "moment_id,moment_kind,depth_m,depth_sigma_"
        "m,"
        "off_angle_m,crease_edge_m,clearance_m,band,band_odds,square_error_rad,net_angle_rad,coverage,net_"
        "seen,"
        "reaction_s,goalie_x_m,goalie_y_m,puck_x_m,puck_y_m,standing_still,angle_first,on_post,advised_from_"
        "m,"
        "advised_to_m,advised_best_m,advised_limit,depth_error_m,shot_open,net_left,net_left_best,gave_away,"
        "came_open,came_open_best,threats,least_spare_s,verdict,firm,turns_on,overruled,overrule_reason,"
        "final_verdict,pass_moment_id,pass_depth_m,pass_clearance_m,pass_band,pass_advised_from_m,pass_"
        "advised_to_m,pass_depth_error_m,"
        "pass_gave_away,pass_came_open,pass_came_open_best,pass_least_spare_s,pass_verdict,pass_firm,"
        "pass_overruled,pass_overrule_reason,pass_final_verdict,note\r\n";
    CsvLine line;
    for (const ShotFact& fact : facts) {
        line << fact.shot_id << fact.game_id << fact.goalie_id << fact.film_id << fact.game_date
             << fact.home_team << fact.away_team << fact.goalie << fact.team << fact.period << fact.clock_s
             << fact.frame << fact.film_s << fact.read << fact.came << fact.situation << fact.strength
             << fact.outcome
             << (fact.outcome ? std::optional{int{is_shot_on_goal(*fact.outcome)}} : std::nullopt)
             << (fact.outcome ? std::optional{int{is_save(*fact.outcome)}} : std::nullopt);
        add_details(line, fact);
        line << fact.moment_id << fact.moment_kind << fact.depth_m << fact.depth_sigma_m << fact.off_angle_m
             << fact.crease_edge_m << fact.clearance_m << fact.band << fact.band_odds << fact.square_error_rad
             << fact.net_angle_rad << fact.coverage << fact.net_seen << fact.reaction_s
             << x_of(fact.goalie_at) << y_of(fact.goalie_at) << x_of(fact.puck_at) << y_of(fact.puck_at)
             << fact.set << fact.angle_first << fact.on_post << fact.advised_from_m << fact.advised_to_m
             << fact.advised_best_m << fact.advised_limit << fact.depth_error_m << fact.shot_open
             << fact.net_left << fact.net_left_best << fact.gave_away << fact.came_open << fact.came_open_best
             << fact.threats << fact.least_spare_s << fact.verdict << fact.firm << fact.turns_on;
        add_review(line, fact.verdict, fact.overruled, fact.overrule_reason);
        add_pass(line, fact.pass);
        line << fact.note;
        line.end(csv);
    }
    return csv;
}

std::string bands_csv(std::span<const GoalieTable> tables) {
    std::string csv =
        "goalie_id,goalie,team,band,logged_count,shots_count,on_goal_count,saves_count,goals_count,"
        "save_percentage_share,wilson_95_low_share,wilson_95_high_share\r\n";
    for (const GoalieTable& table : tables) {
        for (std::size_t band = 0; band < table.by_band.size(); ++band)
            add_band(csv, table, key_of(static_cast<Band>(band)), table.by_band[band]);
        add_band(csv, table, "none", table.without_depth);
        add_band(csv, table, "total", table.total);
    }
    return csv;
}

std::string verdicts_csv(std::span<const GoalieTable> tables) {
    std::string csv = "goalie_id,goalie,team,verdict,model_count,reviewed_count\r\n";
    for (const GoalieTable& table : tables) {
        for (std::size_t verdict = 0; verdict < table.verdicts.model.size(); ++verdict) {
            CsvLine line;
            line << table.goalie_id << table.goalie << table.team << key_of(static_cast<Verdict>(verdict))
                 << table.verdicts.model[verdict] << table.verdicts.reviewed[verdict];
            line.end(csv);
        }
    }
    return csv;
}

} // namespace ropeline
