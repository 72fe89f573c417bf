#include "season/decision_rows.h"

namespace ropeline {

namespace {

template <class Get>
Value part(const std::optional<ThreatReading>& pass, Get get) {
    return pass ? Value{get(*pass)} : Value{};
}

} // namespace

void put_threat(SQLite::Database& db, const Mark& mark) {
    if (mark.kind != MarkKind::threat) return;
    const auto& pass = mark.pass;
    upsert(db, "threat",
           {{"mark_id", mark.id},
            {"one_timer", std::int64_t{mark.one_timer}},
            {"pass_open", std::int64_t{mark.pass_open}},
            {"took", std::int64_t{mark.took}},
            {"pass_s", part(pass, [](const ThreatReading& p) { return p.pass_s; })},
            {"have_s", part(pass, [](const ThreatReading& p) { return p.have_s; })},
            {"need_s", part(pass, [](const ThreatReading& p) { return p.need_s; })},
            {"margin_s", part(pass, [](const ThreatReading& p) { return p.margin_s; })},
            {"reach_depth_m", pass ? value_or_null(pass->reach_depth_m) : Value{}},
            {"new_x_m", part(pass, [](const ThreatReading& p) { return p.new_spot.x_m; })},
            {"new_y_m", part(pass, [](const ThreatReading& p) { return p.new_spot.y_m; })},
            {"arrives_x_m", part(pass, [](const ThreatReading& p) { return p.arrives_at.x_m; })},
            {"arrives_y_m", part(pass, [](const ThreatReading& p) { return p.arrives_at.y_m; })},
            {"coverage_on_arrival", pass ? value_or_null(pass->coverage_on_arrival) : Value{}}});
}

void read_threat_row(SQLite::Database& db, Mark& mark) {
    if (mark.kind != MarkKind::threat) return;
    auto found = ask(db, "SELECT * FROM threat WHERE mark_id = ?", {mark.id});
    if (!found.executeStep()) return;
    const Row row{found};
    mark.one_timer = row.integer("one_timer") != 0;
    mark.pass_open = row.integer("pass_open") != 0;
    mark.took = row.integer("took") != 0;
    if (row.is_null("pass_s")) return;
    ThreatReading& pass = mark.pass.emplace();
    pass.pass_s = row.real("pass_s");
    pass.have_s = row.real("have_s");
    pass.need_s = row.real("need_s");
    pass.margin_s = row.real("margin_s");
    pass.reach_depth_m = row.optional_real("reach_depth_m");
    pass.new_spot = {row.real("new_x_m"), row.real("new_y_m")};
    pass.arrives_at = {row.real("arrives_x_m"), row.real("arrives_y_m")};
    pass.coverage_on_arrival = row.optional_real("coverage_on_arrival");
}

void put_cues(SQLite::Database& db, const Id& moment_id, const std::vector<Cue>& cues) {
    if (cues_of(db, moment_id) == cues) return;
    ask(db, "DELETE FROM cue WHERE moment_id = ?", {moment_id}).exec();
    for (const Cue& cue : cues) {
        upsert(db, "cue",
               {{"id", new_id()},
                {"moment_id", moment_id},
                {"kind", word_of(cue.kind)},
                {"says", word_of(cue.says)}});
    }
}

std::vector<Cue> cues_of(SQLite::Database& db, const Id& moment_id) {
    std::vector<Cue> cues;
    auto found = ask(db, "SELECT kind, says FROM cue WHERE moment_id = ? ORDER BY id", {moment_id});
    const Row row{found};
    while (found.executeStep())
        cues.push_back({row.word<CueKind>("kind"), row.word<Likelihood>("says")});
    return cues;
}

} // namespace ropeline
