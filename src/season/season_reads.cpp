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
    if (!row.is_null("period")) shot.period = static_cast<int>(row.integer("period"));
    shot.clock_s = row.optional_real("clock_s");
    shot.read = row.optional_word<Read>("read");
    shot.came = row.optional_word<NextAction>("came");
    shot.situation = row.optional_word<Situation>("situation");
    shot.strength = row.optional_word<Strength>("strength");
    shot.outcome = row.optional_word<Outcome>("outcome");
    shot.note = row.text("note");
    shot.rebound_shot_id = row.text("rebound_shot_id");
    if (!row.is_null("shooter_number")) shot.shooter_number = static_cast<int>(row.integer("shooter_number"));
    shot.drill = row.text("drill");
    shot.tagged_by = row.text("tagged_by");
    shot.tagged_at = row.text("tagged_at");
    read_details(row, shot.details, false);
    return shot;
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

} // namespace ropeline
