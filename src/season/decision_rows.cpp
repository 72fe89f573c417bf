#include "season/decision_rows.h"

namespace ropeline {

namespace {

/// A share to the last digit: what rounding left beyond it does not go into the file.
double share_of_1(double share) {
    return std::clamp(share, 0.0, 1.0);
}

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
            {"kind", word_of(mark.receiver)},
            {"lane", word_of(mark.lane)},
            {"took", std::int64_t{mark.took}},
            {"pass_s", part(pass, [](const ThreatReading& p) { return p.pass_s; })},
            {"have_s", part(pass, [](const ThreatReading& p) { return p.have_s; })},
            {"late_s", part(pass, [](const ThreatReading& p) { return p.late_s; })},
            {"spare_s", part(pass, [](const ThreatReading& p) { return p.spare_s; })},
            {"aims_x_m", part(pass, [](const ThreatReading& p) { return p.goes_to.x_m; })},
            {"aims_y_m", part(pass, [](const ThreatReading& p) { return p.goes_to.y_m; })},
            {"arrives_x_m", part(pass, [](const ThreatReading& p) { return p.arrives_at.x_m; })},
            {"arrives_y_m", part(pass, [](const ThreatReading& p) { return p.arrives_at.y_m; })},
            {"open_on_arrival",
             part(pass, [](const ThreatReading& p) { return share_of_1(p.open_on_arrival); })},
            {"chance", part(pass, [](const ThreatReading& p) { return share_of_1(p.chance); })}});
}

void read_threat_row(SQLite::Database& db, Mark& mark) {
    if (mark.kind != MarkKind::threat) return;
    auto found = ask(db, "SELECT * FROM threat WHERE mark_id = ?", {mark.id});
    if (!found.executeStep()) return;
    const Row row{found};
    mark.receiver = row.word<ReceiverKind>("kind");
    mark.lane = row.word<Lane>("lane");
    mark.took = row.integer("took") != 0;
    if (row.is_null("pass_s")) return;
    ThreatReading& pass = mark.pass.emplace();
    pass.pass_s = row.real("pass_s");
    pass.have_s = row.real("have_s");
    pass.late_s = row.real("late_s");
    pass.spare_s = row.real("spare_s");
    pass.goes_to = {row.real("aims_x_m"), row.real("aims_y_m")};
    pass.arrives_at = {row.real("arrives_x_m"), row.real("arrives_y_m")};
    pass.open_on_arrival = row.real("open_on_arrival");
    pass.chance = row.real("chance");
}

namespace {

/// The cells of a judgement in the moment's row, all empty without one.
std::vector<Cell> advice_cells(const std::optional<Judgement>& judgement) {
    const Advice* advice = judgement && judgement->advice ? &*judgement->advice : nullptr;
    const auto metres = [&](double Advice::*member) { return advice ? Value{advice->*member} : Value{}; };
    return {{"advised_from_m", metres(&Advice::from_m)},
            {"advised_to_m", metres(&Advice::to_m)},
            {"advised_best_m", metres(&Advice::best_m)},
            {"furthest_m", metres(&Advice::furthest_m)},
            {"net_left_best", advice ? Value{share_of_1(advice->left_best)} : Value{}},
            {"advised_limit", advice ? Value{word_of(advice->limit)} : Value{}},
            {"limiting_threat",
             advice && advice->threat ? Value{static_cast<std::int64_t>(*advice->threat)} : Value{}},
            {"depth_error_m", judgement ? value_or_null(judgement->depth_error_m) : Value{}}};
}

std::vector<Cell> firmness_cells(const std::optional<Judgement>& judgement) {
    const Firmness* firmness = judgement && judgement->firmness ? &*judgement->firmness : nullptr;
    const bool turns = firmness && !firmness->turns_on.empty();
    return {{"firm", firmness ? Value{firmness->share} : Value{}},
            {"turns_on", turns ? Value{std::string{firmness->turns_on}} : Value{}},
            {"becomes", turns ? Value{word_of(firmness->becomes)} : Value{}}};
}

} // namespace

std::vector<Cell> judgement_cells(const std::optional<Judgement>& judgement) {
    std::vector<Cell> cells = advice_cells(judgement);
    for (Cell& cell : firmness_cells(judgement))
        cells.push_back(std::move(cell));
    const OnWhatCame* came = judgement && judgement->on_what_came ? &*judgement->on_what_came : nullptr;
    cells.push_back({"on_post", judgement ? Value{std::int64_t{judgement->on_post}} : Value{}});
    cells.push_back({"shot_open", judgement ? Value{share_of_1(judgement->shot_open)} : Value{}});
    cells.push_back({"net_left", judgement ? Value{share_of_1(judgement->net_left)} : Value{}});
    cells.push_back({"came_open", came ? Value{share_of_1(came->open)} : Value{}});
    cells.push_back({"came_open_best", came ? Value{share_of_1(came->from_advised)} : Value{}});
    cells.push_back(
        {"came_threat", came && came->threat ? Value{static_cast<std::int64_t>(*came->threat)} : Value{}});
    cells.push_back({"verdict", judgement ? Value{word_of(judgement->verdict)} : Value{}});
    return cells;
}

std::optional<Judgement> judgement_of(const Row& row) {
    if (row.is_null("verdict")) return std::nullopt;
    const auto index = [&](const char* column) {
        return row.is_null(column) ? std::nullopt
                                   : std::optional{static_cast<std::size_t>(row.integer(column))};
    };
    Judgement judgement;
    judgement.verdict = row.word<Verdict>("verdict");
    judgement.on_post = row.integer("on_post") != 0;
    judgement.shot_open = row.real("shot_open");
    judgement.net_left = row.real("net_left");
    judgement.depth_error_m = row.optional_real("depth_error_m");
    if (!row.is_null("advised_from_m")) {
        judgement.advice =
            Advice{row.real("advised_from_m"), row.real("advised_to_m"), row.real("advised_best_m"),
                   row.real("net_left_best"),  row.real("furthest_m"),   row.word<Limit>("advised_limit"),
                   index("limiting_threat")};
    }
    if (!row.is_null("came_open"))
        judgement.on_what_came =
            OnWhatCame{row.real("came_open"), row.real("came_open_best"), index("came_threat")};
    if (!row.is_null("firm")) {
        judgement.firmness = Firmness{row.real("firm"), turn_from_key(row.text("turns_on")),
                                      row.optional_word<Verdict>("becomes").value_or(Verdict::not_judged)};
    }
    return judgement;
}

std::optional<double> gave_away(const Judgement& judgement) {
    if (!judgement.advice) return std::nullopt;
    return judgement.net_left - judgement.advice->left_best;
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
