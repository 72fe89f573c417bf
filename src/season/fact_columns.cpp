#include "season/fact_columns.h"

#include "season/detail_rows.h"
#include "season/sql.h"

namespace ropeline {
namespace {

std::string detail_columns(bool of_moment) {
    std::string columns;
    for (const DetailFact& fact : detail_facts())
        if (fact.of_moment == of_moment) columns += fmt::format(", {}", fact.key);
    return columns;
}

} // namespace

void NextColumn::details(Details& details, bool of_moment) {
    for (int index = 0; index < detail_count; ++index) {
        const auto detail = static_cast<Detail>(index);
        const DetailFact& fact = fact_of(detail);
        if (fact.of_moment != of_moment) continue;
        const int column = column_++;
        if (!row_.is_null(column)) details.set(detail, choice_of(fact, row_.text(column)));
    }
}

void NextColumn::refuse(int column) const {
    Row::unknown_word(std::string{row_.name(column)}.c_str(), std::string{row_.text(column)});
}

std::string shot_columns() {
    return "id, game_id, goalie_id, film_id, period, clock_s, frame, film_s, read, came, situation, "
           "strength, "
           "outcome, note, rebound_shot_id, shooter_number, drill, tagged_by" +
           detail_columns(false);
}

void read_shot_columns(NextColumn& next, ShotFact& fact) {
    fact.shot_id = next.text();
    fact.game_id = next.text();
    fact.goalie_id = next.text();
    fact.film_id = next.text();
    fact.period = next.optional_integer();
    fact.clock_s = next.optional_real();
    fact.frame = next.integer();
    fact.film_s = next.real();
    fact.read = next.optional_word<Read>();
    fact.came = next.optional_word<NextAction>();
    fact.situation = next.optional_word<Situation>();
    fact.strength = next.optional_word<Strength>();
    fact.outcome = next.optional_word<Outcome>();
    fact.note = next.text();
    fact.rebound_shot_id = next.text();
    fact.shooter_number = next.optional_integer();
    fact.drill = next.text();
    fact.tagged_by = next.text();
    next.details(fact.details, false);
}

std::string moment_columns() {
    return "kind, depth_m, depth_sigma_m, off_angle_m, crease_edge_m, clearance_m, band, band_odds, "
           "square_error_rad, net_angle_rad, coverage, net_seen, reaction_s, standing_still, angle_first, "
           "on_post, advised_from_m, advised_to_m, advised_best_m, advised_limit, depth_error_m, shot_open, "
           "net_left, net_left_best, came_open, came_open_best, verdict, firm, turns_on, overruled, "
           "overrule_reason" +
           detail_columns(true);
}

void read_moment_columns(NextColumn& next, ShotFact& fact) {
    fact.moment_kind = next.optional_word<MomentKind>();
    fact.depth_m = next.optional_real();
    fact.depth_sigma_m = next.optional_real();
    fact.off_angle_m = next.optional_real();
    fact.crease_edge_m = next.optional_real();
    fact.clearance_m = next.optional_real();
    fact.band = next.optional_word<Band>();
    fact.band_odds = next.optional_real();
    fact.square_error_rad = next.optional_real();
    fact.net_angle_rad = next.optional_real();
    fact.coverage = next.optional_real();
    fact.net_seen = next.optional_real();
    fact.reaction_s = next.optional_real();
    fact.set = next.optional_flag();
    fact.angle_first = next.optional_flag();
    fact.on_post = next.optional_flag();
    fact.advised_from_m = next.optional_real();
    fact.advised_to_m = next.optional_real();
    fact.advised_best_m = next.optional_real();
    fact.advised_limit = next.optional_word<Limit>();
    fact.depth_error_m = next.optional_real();
    fact.shot_open = next.optional_real();
    fact.net_left = next.optional_real();
    fact.net_left_best = next.optional_real();
    if (fact.net_left && fact.net_left_best) fact.gave_away = *fact.net_left - *fact.net_left_best;
    fact.came_open = next.optional_real();
    fact.came_open_best = next.optional_real();
    fact.verdict = next.optional_word<Verdict>();
    fact.firm = next.optional_real();
    fact.turns_on = next.text();
    fact.overruled = next.optional_word<Verdict>();
    fact.overrule_reason = next.text();
    next.details(fact.details, true);
    if (fact.details.of(Detail::feet) != 0) fact.set = key_of(fact.details, Detail::feet) == "set";
}

// The same columns of another moment: those that a pass has are taken from a whole fact.
void read_pass_columns(NextColumn& next, ShotFact::PassFact& pass) {
    ShotFact whole;
    read_moment_columns(next, whole);
    pass.depth_m = *whole.depth_m;
    pass.clearance_m = whole.clearance_m.value_or(0.0);
    pass.band = whole.band.value_or(Band{});
    pass.advised_from_m = whole.advised_from_m;
    pass.advised_to_m = whole.advised_to_m;
    pass.depth_error_m = whole.depth_error_m;
    pass.gave_away = whole.gave_away;
    pass.came_open = whole.came_open;
    pass.came_open_best = whole.came_open_best;
    pass.firm = whole.firm;
    pass.verdict = whole.verdict;
    pass.overruled = whole.overruled;
    pass.overrule_reason = whole.overrule_reason;
}

} // namespace ropeline
