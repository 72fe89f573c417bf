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
            {"receiver", key_or_null(mark.receiver)},
            {"lane", word_of(mark.lane)},
            {"took", std::int64_t{mark.took}},
            {"pass_s", part(pass, [](const ThreatReading& p) { return p.pass_s; })},
            {"have_s", part(pass, [](const ThreatReading& p) { return p.have_s; })},
            {"late_s", part(pass, [](const ThreatReading& p) { return p.late_s; })},
            {"spare_s", part(pass, [](const ThreatReading& p) { return p.spare_s; })},
            {"goes_x_m", part(pass, [](const ThreatReading& p) { return p.goes_to.x_m; })},
            {"goes_y_m", part(pass, [](const ThreatReading& p) { return p.goes_to.y_m; })},
            {"arrives_x_m", part(pass, [](const ThreatReading& p) { return p.arrives_at.x_m; })},
            {"arrives_y_m", part(pass, [](const ThreatReading& p) { return p.arrives_at.y_m; })},
            {"open_on_arrival", part(pass, [](const ThreatReading& p) { return p.open_on_arrival; })},
            {"pass_chance", part(pass, [](const ThreatReading& p) { return p.chance; })}});
}

void read_threat_row(SQLite::Database& db, Mark& mark) {
    if (mark.kind != MarkKind::threat) return;
    auto found = ask(db, "SELECT * FROM threat WHERE mark_id = ?", {mark.id});
    if (!found.executeStep()) return;
    const Row row{found};
    mark.receiver = row.optional_word<ReceiverKind>("receiver");
    mark.lane = row.word<Lane>("lane");
    mark.took = row.integer("took") != 0;
    if (row.is_null("pass_s")) return;
    ThreatReading& pass = mark.pass.emplace();
    pass.pass_s = row.real("pass_s");
    pass.have_s = row.real("have_s");
    pass.late_s = row.real("late_s");
    pass.spare_s = row.real("spare_s");
    pass.goes_to = {row.real("goes_x_m"), row.real("goes_y_m")};
    pass.arrives_at = {row.real("arrives_x_m"), row.real("arrives_y_m")};
    pass.open_on_arrival = row.real("open_on_arrival");
    pass.chance = row.real("pass_chance");
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
