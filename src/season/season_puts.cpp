#include "season/decision_rows.h"
#include "season/detail_rows.h"
#include "season/season_insides.h"
#include "season/who_and_when.h"

#include <nlohmann/json.hpp>

#include <cmath>

namespace ropeline {
namespace {

Id id_for(const Id& id) {
    return id.empty() ? new_id() : id;
}

/// Numbers as JSON text, each with as many digits as it takes to read the same number back.
template <class Numbers>
std::string json_text(const Numbers& numbers) {
    for (const double number : numbers)
        if (!std::isfinite(number))
            throw SeasonError(SeasonFault::refused,
                              "A number that is not finite cannot be kept in a season.");
    return nlohmann::json(numbers).dump();
}

Value text_or_null(const std::string& text) {
    return text.empty() ? Value{} : Value{text};
}
template <class Whole, class Get>
Value part(const std::optional<Whole>& whole, Get get) {
    return whole ? Value{get(*whole)} : Value{};
}

template <class Get>
Value part_of_coverage(const std::optional<Reading>& reading, Get get) {
    return reading && reading->coverage ? Value{get(*reading->coverage)} : Value{};
}

void put_mark(SQLite::Database& db, const Mark& mark, const char* owner_column, const Id& owner,
              std::int64_t ordinal, const Value& name) {
    const auto real = [](const auto& from, auto get) { return from ? Value{get(*from)} : Value{}; };
    upsert(db, "mark",
           {{"id", mark.id},
            {owner_column, owner},
            {"ordinal", ordinal},
            {"kind", word_of(mark.kind)},
            {"name", name},
            {"x_px", real(mark.at, [](const ImagePoint& at) { return at.x_px; })},
            {"y_px", real(mark.at, [](const ImagePoint& at) { return at.y_px; })},
            {"ice_x_m", real(mark.ice, [](const IcePoint& ice) { return ice.x_m; })},
            {"ice_y_m", real(mark.ice, [](const IcePoint& ice) { return ice.y_m; })},
            {"sigma_xx_m2", real(mark.sigma, [](const IceCovariance& sigma) { return sigma.xx; })},
            {"sigma_xy_m2", real(mark.sigma, [](const IceCovariance& sigma) { return sigma.xy; })},
            {"sigma_yy_m2", real(mark.sigma, [](const IceCovariance& sigma) { return sigma.yy; })}});
}

void put_moment(SQLite::Database& db, const Moment& moment, const Id& id, const WhoAndWhen& overruled) {
    const auto& reading = moment.reading;
    std::vector<Cell> row{
        {{"id", id},
         {"shot_id", moment.shot_id},
         {"ordinal", std::int64_t{moment.ordinal}},
         {"kind", word_of(moment.kind)},
         {"film_id", id_or_null(moment.film_id)},
         {"rink_fit_id", id_or_null(moment.rink_fit_id)},
         {"same_as", id_or_null(moment.same_as)},
         {"frame", moment.frame},
         {"pts_ticks", moment.pts_ticks},
         {"depth_m", part(reading, [](const Reading& r) { return r.depth_m; })},
         {"depth_sigma_m", value_or_null(moment.depth_sigma_m)},
         {"off_angle_m", part(reading, [](const Reading& r) { return r.off_angle_m; })},
         {"crease_edge_m", part(reading, [](const Reading& r) { return r.crease_edge_m; })},
         {"clearance_m", part(reading, [](const Reading& r) { return r.clearance_m; })},
         {"band", part(reading, [](const Reading& r) { return word_of(r.band); })},
         {"band_odds", value_or_null(moment.band_odds_of_band)},
         {"square_error_rad", reading ? value_or_null(reading->square_error_rad) : Value{}},
         {"net_angle_rad", part_of_coverage(reading, [](const Coverage& c) { return c.net_angle_rad; })},
         {"coverage", part_of_coverage(reading, [](const Coverage& c) { return c.covered; })},
         {"net_seen", part_of_coverage(reading, [](const Coverage& c) { return c.net_seen; })},
         {"open_short_rad",
          part_of_coverage(reading, [](const Coverage& c) { return c.short_side.angle_rad; })},
         {"open_short_m",
          part_of_coverage(reading, [](const Coverage& c) { return c.short_side.goal_line_m; })},
         {"open_far_rad", part_of_coverage(reading, [](const Coverage& c) { return c.far_side.angle_rad; })},
         {"open_far_m", part_of_coverage(reading, [](const Coverage& c) { return c.far_side.goal_line_m; })},
         {"reaction_s", part(reading, [](const Reading& r) { return r.reaction_s; })},
         {"standing_still", moment.set ? Value{std::int64_t{*moment.set}} : Value{}},
         {"angle_first", part(moment.order, [](const AngleBeforeDepth& o) { return std::int64_t{o.held}; })},
         {"turn_share", part(moment.order, [](const AngleBeforeDepth& o) { return o.turn_share; })},
         {"out_share", part(moment.order, [](const AngleBeforeDepth& o) { return o.out_share; })},
         {"overruled", key_or_null(moment.overruled)},
         {"overrule_reason", moment.overrule_reason},
         {"overruled_by", overruled.who},
         {"overruled_at", text_or_null(overruled.when)},
         {"model_version", std::int64_t{moment.model_version}}}};
    for (Cell& cell : judgement_cells(moment.judgement))
        row.push_back(std::move(cell));
    upsert(db, "moment", row);
}

std::vector<Id> landmark_mark_ids(SQLite::Database& db, const Id& fit_id) {
    std::vector<Id> ids;
    auto mark = ask(db, "SELECT id FROM mark WHERE rink_fit_id = ? ORDER BY ordinal", {fit_id});
    while (mark.executeStep())
        ids.push_back(mark.getColumn(0).getString());
    return ids;
}

} // namespace

void SeasonFile::put(Season& record) {
    const Id id = id_for(record.id);
    change("season", [&] {
        SQLite::Database& db = *insides_->db;
        if (ask(db, "SELECT 1 FROM season WHERE id <> ?", {id}).executeStep())
            fail(SeasonFault::refused, path(),
                 "the file holds another season already. Make a new file for this one.");
        upsert(db, "season",
               {{"id", id},
                {"name", record.name},
                {"league", record.league},
                {"rules", word_of(record.rules)},
                {"level", word_of(record.level)},
                {"reviewer", record.reviewer}});
        for (const ParameterFact& fact : parameter_facts())
            upsert(db, "parameter",
                   {{"key", std::string{fact.key}},
                    {"value", *parameter(record.parameters, fact.key)},
                    {"unit", std::string{fact.unit}}});
    });
    record.id = id;
}

void SeasonFile::put(Team& record) {
    const Id id = id_for(record.id);
    change("team", [&] { upsert(*insides_->db, "team", {{"id", id}, {"name", record.name}}); });
    record.id = id;
}

void SeasonFile::put(Goalie& record) {
    const Id id = id_for(record.id);
    change("goalie", [&] {
        upsert(*insides_->db, "goalie",
               {{"id", id},
                {"team_id", id_or_null(record.team_id)},
                {"name", record.name},
                {"catches", text_or_null(record.catches)},
                {"height_m", value_or_null(record.height_m)},
                {"blocking_width_m", value_or_null(record.blocking_width_m)},
                {"lateral_speed_mps", value_or_null(record.lateral_speed_mps)}});
    });
    record.id = id;
}

void SeasonFile::put(Game& record) {
    const Id id = id_for(record.id);
    change("game", [&] {
        upsert(*insides_->db, "game",
               {{"id", id},
                {"date", text_or_null(record.date)},
                {"home_team_id", id_or_null(record.home_team_id)},
                {"away_team_id", id_or_null(record.away_team_id)},
                {"rules", word_of(record.rules)},
                {"note", record.note}});
    });
    record.id = id;
}

void SeasonFile::put(Film& record) {
    const Id id = id_for(record.id);
    change("film", [&] {
        upsert(*insides_->db, "film",
               {{"id", id},
                {"game_id", record.game_id},
                {"path", record.path},
                {"bytes", record.bytes},
                {"fingerprint", record.fingerprint},
                {"width_px", std::int64_t{record.shown.width_px}},
                {"height_px", std::int64_t{record.shown.height_px}},
                {"frame_count", record.frame_count},
                {"first_s", value_or_null(record.first_s)},
                {"last_s", value_or_null(record.last_s)}});
    });
    record.id = id;
}

void SeasonFile::put(StoredFit& record) {
    const Id id = id_for(record.id);
    change("rink fit", [&] {
        SQLite::Database& db = *insides_->db;
        upsert(db, "rink_fit",
               {{"id", id},
                {"film_id", record.film_id},
                {"carried_from", id_or_null(record.carried_from)},
                {"frame", record.frame},
                {"pts_ticks", record.pts_ticks},
                {"rules", word_of(record.rules)},
                {"image_from_ice", json_text(record.fit.image_from_ice)},
                {"ice_from_image", json_text(record.fit.ice_from_image)},
                {"radial", record.fit.radial},
                {"width_px", std::int64_t{record.fit.image.width_px}},
                {"height_px", std::int64_t{record.fit.image.height_px}},
                {"rms_px", record.fit.rms_px},
                {"click_sigma_px", record.fit.click_sigma_px},
                {"covariance", json_text(record.fit.covariance)},
                {"radial_covariance", json_text(record.fit.radial_covariance)}});
        std::vector<Id> ids = landmark_mark_ids(db, id);
        for (std::size_t i = 0; i < record.landmarks.size(); ++i) {
            if (i == ids.size()) ids.push_back(new_id());
            const StoredLandmark& landmark = record.landmarks[i];
            Mark mark;
            mark.id = ids[i];
            mark.kind = MarkKind::landmark;
            mark.at = landmark.at;
            mark.ice = landmark.point;
            put_mark(db, mark, "rink_fit_id", id, static_cast<std::int64_t>(i), landmark.name);
        }
        ask(db, "DELETE FROM mark WHERE rink_fit_id = ? AND ordinal >= ?",
            {id, static_cast<std::int64_t>(record.landmarks.size())})
            .exec();
    });
    record.id = id;
}

void SeasonFile::put(ClockMark& record) {
    const Id id = id_for(record.id);
    change("game clock", [&] {
        upsert(*insides_->db, "clock_mark",
               {{"id", id},
                {"film_id", record.film_id},
                {"frame", record.frame},
                {"pts_ticks", record.pts_ticks},
                {"film_s", record.film_s},
                {"period", std::int64_t{record.period}},
                {"clock_s", record.clock_s},
                {"running", std::int64_t{record.running}}});
    });
    record.id = id;
}

void SeasonFile::put(Shot& record) {
    const Id id = id_for(record.id);
    std::string tagged_at;
    change("shot", [&] {
        tagged_at = when_tagged(*insides_->db, record, id);
        upsert(*insides_->db, "shot",
               {{"id", id},
                {"game_id", record.game_id},
                {"goalie_id", id_or_null(record.goalie_id)},
                {"film_id", id_or_null(record.film_id)},
                {"frame", record.frame},
                {"pts_ticks", record.pts_ticks},
                {"film_s", record.film_s},
                {"period", record.period ? Value{std::int64_t{*record.period}} : Value{}},
                {"clock_s", value_or_null(record.clock_s)},
                {"clock_from_marks", std::int64_t{record.clock_from_marks}},
                {"far_net", std::int64_t{record.far_net}},
                {"read", key_or_null(record.read)},
                {"came", key_or_null(record.came)},
                {"situation", key_or_null(record.situation)},
                {"strength", key_or_null(record.strength)},
                {"outcome", key_or_null(record.outcome)},
                {"note", record.note},
                {"rebound_shot_id", id_or_null(record.rebound_shot_id)},
                {"shooter_number",
                 record.shooter_number ? Value{std::int64_t{*record.shooter_number}} : Value{}},
                {"drill", record.drill},
                {"tagged_by", record.tagged_by},
                {"tagged_at", tagged_at}});
        put_details(*insides_->db, "shot", id, record.details);
        put_tags(*insides_->db, id, record.tags);
    });
    record.id = id;
    record.tagged_at = tagged_at;
}

void SeasonFile::put(Moment& record) {
    const Id id = id_for(record.id);
    std::vector<Id> mark_ids;
    for (const Mark& mark : record.marks)
        mark_ids.push_back(id_for(mark.id));
    WhoAndWhen overruled;
    change("moment", [&] {
        refuse_two_receivers(record);
        SQLite::Database& db = *insides_->db;
        overruled = who_overruled(db, record, id);
        put_moment(db, record, id, overruled);
        put_details(db, "moment", id, record.details);
        ask(db, "DELETE FROM mark WHERE moment_id = ? AND id NOT IN (SELECT value FROM json_each(?))",
            {id, nlohmann::json(mark_ids).dump()})
            .exec();
        for (std::size_t i = 0; i < record.marks.size(); ++i) {
            Mark mark = record.marks[i];
            mark.id = mark_ids[i];
            put_mark(db, mark, "moment_id", id, static_cast<std::int64_t>(i), {});
            put_threat(db, mark);
        }
        put_cues(db, id, record.cues);
    });
    record.id = id;
    record.overruled_by = overruled.who;
    record.overruled_at = overruled.when;
    for (std::size_t i = 0; i < record.marks.size(); ++i)
        record.marks[i].id = mark_ids[i];
}

void SeasonFile::remove_shot(const Id& id) {
    change("shot removed", [&] { ask(*insides_->db, "DELETE FROM shot WHERE id = ?", {id}).exec(); });
}

void SeasonFile::remove_moment(const Id& id) {
    change("moment removed", [&] { ask(*insides_->db, "DELETE FROM moment WHERE id = ?", {id}).exec(); });
}

void SeasonFile::remove_rink_fit(const Id& id) {
    change("rink fit removed", [&] { ask(*insides_->db, "DELETE FROM rink_fit WHERE id = ?", {id}).exec(); });
}

void SeasonFile::remove_clock_mark(const Id& id) {
    change("game clock", [&] { ask(*insides_->db, "DELETE FROM clock_mark WHERE id = ?", {id}).exec(); });
}

} // namespace ropeline
