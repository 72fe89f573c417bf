#include "season/decision_rows.h"
#include "season/detail_rows.h"
#include "season/season_insides.h"

#include <nlohmann/json.hpp>

namespace ropeline {
namespace {

/// All rows of the answer, each made into a record.
template <class Make>
auto all(SQLite::Statement statement, Make make) {
    std::vector<decltype(make(std::declval<const Row&>()))> records;
    const Row row{statement};
    while (statement.executeStep())
        records.push_back(make(row));
    return records;
}

template <std::size_t count>
std::array<double, count> numbers(const Row& row, const char* column) {
    try {
        return nlohmann::json::parse(row.text(column)).get<std::array<double, count>>();
    } catch (const nlohmann::json::exception&) {
        throw SeasonError(
            SeasonFault::damaged,
            fmt::format(
                "The season file holds a rink fit whose {} is not a list of {} numbers. Remove that fit "
                "(table rink_fit) with sqlite3, or go back to a backup with: ropeline check SEASON "
                "--repair",
                column, count));
    }
}

std::optional<IcePoint> ice(const Row& row, const char* x, const char* y) {
    if (row.is_null(x)) return std::nullopt;
    return IcePoint{row.real(x), row.real(y)};
}

Mark mark_of(const Row& row) {
    Mark mark;
    mark.id = row.text("id");
    mark.kind = row.word<MarkKind>("kind");
    if (!row.is_null("x_px")) mark.at = ImagePoint{row.real("x_px"), row.real("y_px")};
    mark.ice = ice(row, "ice_x_m", "ice_y_m");
    if (!row.is_null("sigma_xx_m2"))
        mark.sigma = IceCovariance{row.real("sigma_xx_m2"), row.real("sigma_xy_m2"), row.real("sigma_yy_m2")};
    return mark;
}

std::optional<Reading> reading_of(const Row& row) {
    if (row.is_null("depth_m")) return std::nullopt;
    Reading reading;
    reading.depth_m = row.real("depth_m");
    reading.off_angle_m = row.real("off_angle_m");
    reading.crease_edge_m = row.real("crease_edge_m");
    reading.clearance_m = row.real("clearance_m");
    reading.band = row.word<Band>("band");
    reading.square_error_rad = row.optional_real("square_error_rad");
    if (!row.is_null("coverage")) {
        Coverage& coverage = reading.coverage.emplace();
        coverage.net_angle_rad = row.real("net_angle_rad");
        coverage.covered = row.real("coverage");
        coverage.net_seen = row.real("net_seen");
        coverage.short_side = {row.real("open_short_rad"), row.real("open_short_m")};
        coverage.far_side = {row.real("open_far_rad"), row.real("open_far_m")};
    }
    reading.reaction_s = row.real("reaction_s");
    return reading;
}

Moment moment_of(const Row& row) {
    Moment moment;
    moment.id = row.text("id");
    moment.shot_id = row.text("shot_id");
    moment.ordinal = static_cast<int>(row.integer("ordinal"));
    moment.kind = row.word<MomentKind>("kind");
    moment.film_id = row.text("film_id");
    moment.rink_fit_id = row.text("rink_fit_id");
    moment.same_as = row.text("same_as");
    moment.frame = row.integer("frame");
    moment.pts_ticks = row.integer("pts_ticks");
    moment.reading = reading_of(row);
    moment.depth_sigma_m = row.optional_real("depth_sigma_m");
    moment.band_odds_of_band = row.optional_real("band_odds");
    moment.set = row.optional_flag("standing_still");
    if (!row.is_null("angle_first"))
        moment.order = {row.real("turn_share"), row.real("out_share"), row.integer("angle_first") != 0};
    moment.judgement = judgement_of(row);
    moment.overruled = row.optional_word<Verdict>("overruled");
    moment.overrule_reason = row.text("overrule_reason");
    moment.overruled_by = row.text("overruled_by");
    moment.overruled_at = row.text("overruled_at");
    read_details(row, moment.details, true);
    moment.model_version = static_cast<int>(row.integer("model_version"));
    return moment;
}

ClockMark clock_mark_of(const Row& row) {
    ClockMark mark;
    mark.id = row.text("id");
    mark.film_id = row.text("film_id");
    mark.frame = row.integer("frame");
    mark.pts_ticks = row.integer("pts_ticks");
    mark.film_s = row.real("film_s");
    mark.period = static_cast<int>(row.integer("period"));
    mark.clock_s = row.real("clock_s");
    mark.running = row.integer("running") != 0;
    return mark;
}

StoredFit fit_of(const Row& row) {
    StoredFit stored;
    stored.id = row.text("id");
    stored.film_id = row.text("film_id");
    stored.carried_from = row.text("carried_from");
    stored.frame = row.integer("frame");
    stored.pts_ticks = row.integer("pts_ticks");
    stored.rules = row.word<RuleBookId>("rules");
    stored.fit.image_from_ice = numbers<9>(row, "image_from_ice");
    stored.fit.ice_from_image = numbers<9>(row, "ice_from_image");
    stored.fit.radial = row.real("radial");
    stored.fit.image = {static_cast<int>(row.integer("width_px")),
                        static_cast<int>(row.integer("height_px"))};
    stored.fit.radial_covariance = numbers<10>(row, "radial_covariance");
    stored.fit.rms_px = row.real("rms_px");
    stored.fit.click_sigma_px = row.real("click_sigma_px");
    stored.fit.covariance = numbers<81>(row, "covariance");
    return stored;
}

/// The words that a shot and its line in shot_facts share.
template <class Record>
void read_words(const Row& row, Record& record) {
    if (!row.is_null("period")) record.period = static_cast<int>(row.integer("period"));
    record.clock_s = row.optional_real("clock_s");
    record.read = row.optional_word<Read>("read");
    record.came = row.optional_word<NextAction>("came");
    record.situation = row.optional_word<Situation>("situation");
    record.strength = row.optional_word<Strength>("strength");
    record.outcome = row.optional_word<Outcome>("outcome");
    record.note = row.text("note");
}

/// What else a coach logs that a shot and its line in shot_facts share.
template <class Record>
void read_logged(const Row& row, Record& record) {
    record.rebound_shot_id = row.text("rebound_shot_id");
    if (!row.is_null("shooter_number"))
        record.shooter_number = static_cast<int>(row.integer("shooter_number"));
    record.drill = row.text("drill");
    record.tagged_by = row.text("tagged_by");
}

Shot shot_of(const Row& row) {
    Shot shot;
    shot.id = row.text("id");
    shot.game_id = row.text("game_id");
    shot.goalie_id = row.text("goalie_id");
    shot.film_id = row.text("film_id");
    shot.frame = row.integer("frame");
    shot.pts_ticks = row.integer("pts_ticks");
    shot.film_s = row.real("film_s");
    shot.clock_from_marks = row.integer("clock_from_marks") != 0;
    shot.far_net = row.integer("far_net") != 0;
    read_words(row, shot);
    read_logged(row, shot);
    shot.tagged_at = row.text("tagged_at");
    read_details(row, shot.details, false);
    return shot;
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

ShotFact fact_of(const Row& row) {
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
    read_words(row, fact);
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
    fact.goalie_at = ice(row, "goalie_x_m", "goalie_y_m");
    fact.puck_at = ice(row, "puck_x_m", "puck_y_m");
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
    read_logged(row, fact);
    read_details(row, fact.details, false);
    read_details(row, fact.details, true);
    fact.tags = row.text("tags");
    fact.took_at = ice(row, "took_x_m", "took_y_m");
    return fact;
}

} // namespace

Season SeasonFile::season() const {
    return insides_->read([&](SQLite::Database& db) {
        const auto found = all(ask(db, "SELECT * FROM season ORDER BY id"), [](const Row& row) {
            Season season;
            season.id = row.text("id");
            season.name = row.text("name");
            season.league = row.text("league");
            season.rules = row.word<RuleBookId>("rules");
            season.level = row.word<Level>("level");
            season.reviewer = row.text("reviewer");
            return season;
        });
        if (found.size() != 1)
            fail(SeasonFault::damaged, path(),
                 fmt::format("the file holds {} seasons instead of one. Go back to its last backup with: "
                             "ropeline check SEASON --repair",
                             found.size()));
        Season season = found.front();
        season.parameters = parameters_for(season.level); // for what a file of an older version does not name
        auto stored = ask(db, "SELECT key, value FROM parameter");
        while (stored.executeStep()) {
            const std::string key = stored.getColumn(0).getString();
            if (!set_parameter(season.parameters, key, stored.getColumn(1).getDouble()))
                fail(SeasonFault::damaged, path(),
                     fmt::format("the table parameter holds \"{}\", which is no parameter this program "
                                 "knows. Was it edited by hand? Put the key right with sqlite3.",
                                 key));
        }
        return season;
    });
}

std::vector<Team> SeasonFile::teams() const {
    return insides_->read([](SQLite::Database& db) {
        return all(ask(db, "SELECT * FROM team ORDER BY name, id"), [](const Row& row) {
            return Team{row.text("id"), row.text("name")};
        });
    });
}

std::vector<Goalie> SeasonFile::goalies() const {
    return insides_->read([](SQLite::Database& db) {
        return all(ask(db, "SELECT * FROM goalie ORDER BY name, id"), [](const Row& row) {
            return Goalie{row.text("id"),
                          row.text("team_id"),
                          row.text("name"),
                          row.text("catches"),
                          row.optional_real("height_m"),
                          row.optional_real("blocking_width_m"),
                          row.optional_real("lateral_speed_mps")};
        });
    });
}

std::vector<Game> SeasonFile::games() const {
    return insides_->read([](SQLite::Database& db) {
        return all(ask(db, "SELECT * FROM game ORDER BY date, id"), [](const Row& row) {
            return Game{row.text("id"),
                        row.text("date"),
                        row.text("home_team_id"),
                        row.text("away_team_id"),
                        row.word<RuleBookId>("rules"),
                        row.text("note")};
        });
    });
}

std::vector<Film> SeasonFile::films(const Id& game_id) const {
    return insides_->read([&](SQLite::Database& db) {
        return all(ask(db, "SELECT * FROM film WHERE game_id = ? ORDER BY id", {game_id}),
                   [](const Row& row) {
                       return Film{row.text("id"),
                                   row.text("game_id"),
                                   row.text("path"),
                                   row.integer("bytes"),
                                   row.text("fingerprint"),
                                   {static_cast<int>(row.integer("width_px")),
                                    static_cast<int>(row.integer("height_px"))},
                                   row.integer("frame_count"),
                                   row.optional_real("first_s"),
                                   row.optional_real("last_s")};
                   });
    });
}

std::vector<StoredFit> SeasonFile::rink_fits(const Id& film_id) const {
    return insides_->read([&](SQLite::Database& db) {
        auto fits =
            all(ask(db, "SELECT * FROM rink_fit WHERE film_id = ? ORDER BY frame, id", {film_id}), fit_of);
        for (StoredFit& fit : fits)
            fit.landmarks =
                all(ask(db, "SELECT * FROM mark WHERE rink_fit_id = ? ORDER BY ordinal", {fit.id}),
                    [](const Row& row) {
                        const Mark mark = mark_of(row);
                        return StoredLandmark{row.text("name"), mark.at.value_or(ImagePoint{}), mark.ice};
                    });
        return fits;
    });
}

std::vector<ClockMark> SeasonFile::clock_marks(const Id& film_id) const {
    return insides_->read([&](SQLite::Database& db) {
        return all(ask(db, "SELECT * FROM clock_mark WHERE film_id = ? ORDER BY frame, id", {film_id}),
                   clock_mark_of);
    });
}

std::vector<Shot> SeasonFile::shots(const Id& game_id) const {
    return insides_->read([&](SQLite::Database& db) {
        auto shots = all(ask(db,
                             "SELECT * FROM shot WHERE game_id = ? "
                             "ORDER BY film_id IS NULL, film_id, frame, period, clock_s DESC, id",
                             {game_id}),
                         shot_of);
        for (Shot& shot : shots)
            shot.tags = tags_of(db, shot.id);
        return shots;
    });
}

std::vector<Moment> SeasonFile::moments(const Id& shot_id) const {
    return insides_->read([&](SQLite::Database& db) {
        auto moments =
            all(ask(db, "SELECT * FROM moment WHERE shot_id = ? ORDER BY ordinal, id", {shot_id}), moment_of);
        for (Moment& moment : moments) {
            moment.marks =
                all(ask(db, "SELECT * FROM mark WHERE moment_id = ? ORDER BY ordinal", {moment.id}), mark_of);
            for (Mark& mark : moment.marks)
                read_threat_row(db, mark);
            moment.cues = cues_of(db, moment.id);
        }
        return moments;
    });
}

std::vector<ShotFact> SeasonFile::shot_facts_of_view() const {
    return insides_->read([](SQLite::Database& db) {
        return all(ask(db, "SELECT * FROM shot_facts ORDER BY game_date, game_id, film_id, frame, shot_id"),
                   [](const Row& row) { return fact_of(row); });
    });
}

} // namespace ropeline
