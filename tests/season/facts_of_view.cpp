#include "season/facts_of_view.h"

#include "season/detail_rows.h"
#include "season/sql.h"

namespace ropeline::sample {
namespace {

std::optional<IcePoint> place(const Row& row, const char* x, const char* y) {
    if (row.is_null(x)) return std::nullopt;
    return IcePoint{row.real(x), row.real(y)};
}

std::optional<ShotFact::PassFact> pass_fact_of(const Row& row) {
    if (row.is_null("pass_moment_id")) return std::nullopt;
    ShotFact::PassFact pass;
    pass.moment_id = row.text("pass_moment_id");
    pass.depth_m = row.real("pass_depth_m");
    pass.clearance_m = row.real("pass_clearance_m");
    pass.band = row.word<Band>("pass_band");
    pass.advised_from_m = row.optional_real("pass_advised_from_m");
    pass.advised_to_m = row.optional_real("pass_advised_to_m");
    pass.depth_error_m = row.optional_real("pass_depth_error_m");
    pass.gave_away = row.optional_real("pass_gave_away");
    pass.came_open = row.optional_real("pass_came_open");
    pass.came_open_best = row.optional_real("pass_came_open_best");
    pass.least_spare_s = row.optional_real("pass_least_spare_s");
    pass.firm = row.optional_real("pass_firm");
    pass.verdict = row.optional_word<Verdict>("pass_verdict");
    pass.overruled = row.optional_word<Verdict>("pass_overruled");
    pass.overrule_reason = row.text("pass_overrule_reason");
    return pass;
}

ShotFact fact_of_row(const Row& row) {
    ShotFact fact;
    fact.shot_id = row.text("shot_id");
    fact.game_id = row.text("game_id");
    fact.goalie_id = row.text("goalie_id");
    fact.film_id = row.text("film_id");
    fact.game_date = row.text("game_date");
    fact.home_team = row.text("home_team");
    fact.away_team = row.text("away_team");
    fact.goalie = row.text("goalie");
    fact.team = row.text("team");
    fact.frame = row.integer("frame");
    fact.film_s = row.real("film_s");
    if (!row.is_null("period")) fact.period = static_cast<int>(row.integer("period"));
    fact.clock_s = row.optional_real("clock_s");
    fact.read = row.optional_word<Read>("read");
    fact.came = row.optional_word<NextAction>("came");
    fact.situation = row.optional_word<Situation>("situation");
    fact.strength = row.optional_word<Strength>("strength");
    fact.outcome = row.optional_word<Outcome>("outcome");
    fact.note = row.text("note");
    fact.moment_id = row.text("moment_id");
    fact.moment_kind = row.optional_word<MomentKind>("moment_kind");
    fact.depth_m = row.optional_real("depth_m");
    fact.depth_sigma_m = row.optional_real("depth_sigma_m");
    fact.off_angle_m = row.optional_real("off_angle_m");
    fact.crease_edge_m = row.optional_real("crease_edge_m");
    fact.clearance_m = row.optional_real("clearance_m");
    fact.band = row.optional_word<Band>("band");
    fact.band_odds = row.optional_real("band_odds");
    fact.square_error_rad = row.optional_real("square_error_rad");
    fact.net_angle_rad = row.optional_real("net_angle_rad");
    fact.coverage = row.optional_real("coverage");
    fact.net_seen = row.optional_real("net_seen");
    fact.reaction_s = row.optional_real("reaction_s");
    fact.goalie_at = place(row, "goalie_x_m", "goalie_y_m");
    fact.puck_at = place(row, "puck_x_m", "puck_y_m");
    fact.set = row.optional_flag("standing_still");
    fact.angle_first = row.optional_flag("angle_first");
    fact.on_post = row.optional_flag("on_post");
    fact.advised_from_m = row.optional_real("advised_from_m");
    fact.advised_to_m = row.optional_real("advised_to_m");
    fact.advised_best_m = row.optional_real("advised_best_m");
    fact.advised_limit = row.optional_word<Limit>("advised_limit");
    fact.depth_error_m = row.optional_real("depth_error_m");
    fact.shot_open = row.optional_real("shot_open");
    fact.net_left = row.optional_real("net_left");
    fact.net_left_best = row.optional_real("net_left_best");
    fact.gave_away = row.optional_real("gave_away");
    fact.came_open = row.optional_real("came_open");
    fact.came_open_best = row.optional_real("came_open_best");
    fact.threats = static_cast<int>(row.integer("threats"));
    fact.least_spare_s = row.optional_real("least_spare_s");
    fact.firm = row.optional_real("firm");
    fact.turns_on = row.text("turns_on");
    fact.verdict = row.optional_word<Verdict>("verdict");
    fact.overruled = row.optional_word<Verdict>("overruled");
    fact.overrule_reason = row.text("overrule_reason");
    fact.pass = pass_fact_of(row);
    fact.rebound_shot_id = row.text("rebound_shot_id");
    if (!row.is_null("shooter_number")) fact.shooter_number = static_cast<int>(row.integer("shooter_number"));
    fact.drill = row.text("drill");
    fact.tagged_by = row.text("tagged_by");
    read_details(row, fact.details, false);
    read_details(row, fact.details, true);
    fact.tags = row.text("tags");
    fact.took_at = place(row, "took_x_m", "took_y_m");
    return fact;
}

} // namespace

std::vector<ShotFact> facts_of_view(const std::filesystem::path& season) {
    SQLite::Database db{season.string(), SQLite::OPEN_READONLY};
    SQLite::Statement statement{
        db, "SELECT * FROM shot_facts ORDER BY game_date, game_id, film_id, frame, shot_id"};
    const Row row{statement};
    std::vector<ShotFact> facts;
    while (statement.executeStep())
        facts.push_back(fact_of_row(row));
    return facts;
}

} // namespace ropeline::sample
