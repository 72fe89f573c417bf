// Reel, still and handout from the desk: what they are made of, begun, watched, stopped.
#include "desk/commands.h"
#include "desk/state/shot_list.h"
#include "sheet/shot_words.h"

#include <fmt/core.h>
#include <imgui.h>

#include <algorithm>

namespace ropeline {

namespace {

void offer(ExportPart& part, std::vector<Id> ids, const std::string& where, bool chosen) {
    if (ids.empty()) return;
    if (chosen) part.chosen = part.offered.size();
    part.offered.push_back(
        {fmt::format("{} shot{} {}", ids.size(), ids.size() == 1 ? "" : "s", where), std::move(ids)});
}

std::vector<Id> without_repeats(std::vector<Id> ids) {
    std::vector<Id> once;
    for (Id& id : ids)
        if (std::ranges::find(once, id) == once.end()) once.push_back(std::move(id));
    return once;
}

/// The open shot, the lists of the sides; the one that belongs to the side on screen is chosen.
void offer_shots(App& app) {
    ExportPart& part = app.exports;
    const LogState& log = app.log.state();
    part.offered.clear();
    part.chosen = 0;
    if (const ShotEntry* open = chosen_shot(log)) part.offered.push_back({"the open shot", {open->shot.id}});
    std::vector<Id> listed;
    for (const std::size_t index : listed_shots(log))
        listed.push_back(log.shots[index].shot.id);
    offer(part, std::move(listed), "listed in Log", false);
    std::vector<Id> studied;
    for (const StudyDecision& one : app.study.queue.decisions)
        studied.push_back(one.shot_id);
    offer(part, without_repeats(std::move(studied)), "listed in Study",
          app.side == Side::study && !app.study.turn);
    const FactFilter& asked = log.list.only; // on the Season side
    std::vector<Id> season;
    for (const ShotFact& fact : app.season.facts)
        if (passes(asked, fact)) season.push_back(fact.shot_id);
    const Goalie* goalie = goalie_of(log, asked.goalie_id);
    offer(part, std::move(season),
          asked.asks_nothing() ? "of the season" : "of " + filter_words(asked, goalie ? goalie->name : ""),
          app.side == Side::season);
}

std::string suggested_handout_path(const App& app) {
    const Goalie* goalie = goalie_of(app.log.state(), app.exports.goalie_id);
    return suggested_export_path(app.log.book->file().path(), ExportKind::handout, goalie ? goalie->name : "")
        .string();
}

void suggest_paths(App& app) {
    ExportPart& part = app.exports;
    const auto& season = app.log.book->file().path();
    part.reel_path = suggested_export_path(season, ExportKind::reel, "").string();
    part.still_path = suggested_export_path(season, ExportKind::still, "").string();
    part.handout_path = suggested_handout_path(app);
}

ExportWish wish_for(const App& app, ExportKind kind) {
    const ExportPart& part = app.exports;
    ExportWish wish;
    wish.kind = kind;
    wish.season = app.log.book->file().path();
    wish.unit = app.settings.lengths;
    if (!part.offered.empty()) wish.shots = part.offered[part.chosen].ids;
    wish.reel.timing.speed_on = part.half_speed ? 0.5 : 1.0;
    wish.reel.rink_while_running = part.rink;
    wish.reel.beside = part.beside;
    wish.reel.sound = part.sound;
    wish.reel.note = wish.still.note = part.notes;
    wish.handout.notes = part.handout_notes;
    wish.reel.title = app.log.state().season.name;
    wish.handout.stops_before_s = app.settings.stops_before_s;
    wish.goalie_id = part.goalie_id;
    if (kind == ExportKind::still) {
        wish.shots = {part.still_shot};
        wish.moment_id = part.still_moment;
    }
    const std::string& to = kind == ExportKind::reel    ? part.reel_path
                            : kind == ExportKind::still ? part.still_path
                                                        : part.handout_path;
    wish.to = resolved_path(app, to);
    return wish;
}

} // namespace

void turn_exports(App& app) {
    ExportPart& part = app.exports;
    if (part.voice) return drop_voice(app);
    part.open = !part.open;
    if (!part.open || !app.log.book) return;
    close_all(app.pages);
    const LogState& log = app.log.state();
    offer_shots(app);
    const ShotEntry* entry = chosen_shot(log);
    const Moment* moment = moment_in_hand(log);
    part.still_shot = entry ? entry->shot.id : Id{};
    part.still_moment = moment ? moment->id : Id{};
    part.goalie_id = entry                              ? entry->shot.goalie_id
                     : !log.list.only.goalie_id.empty() ? log.list.only.goalie_id
                                                        : log.goalie_id;
    if (!part.work) part.said.clear();
    suggest_paths(app);
}

void choose_handout_goalie(App& app, const Id& goalie_id) {
    ExportPart& part = app.exports;
    const bool typed = part.handout_path != suggested_handout_path(app);
    part.goalie_id = goalie_id;
    if (!typed) part.handout_path = suggested_handout_path(app);
}

void begin_export(App& app, ExportKind kind) {
    start_export(app, wish_for(app, kind));
}

void start_export(App& app, const ExportWish& wish) {
    ExportPart& part = app.exports;
    if (part.work) return;
    if (app.log.book->wait_for_commit()) return; // the thread reads what is on the disk
    part.said.clear();
    part.trouble = false;
    part.work = std::make_unique<Export>(wish);
}

bool watch_export(App& app) {
    ExportPart& part = app.exports;
    if (!part.work) return false;
    if (!part.work->finished()) return true;
    part.said = part.work->words();
    part.trouble = part.work->trouble();
    const ExportWish& wish = part.work->wish();
    const bool made = !part.trouble && !part.work->stopping();
    if (made && wish.kind == ExportKind::reel) part.made_reel = wish;
    if (made && wish.kind == ExportKind::still) {
        if (!part.work->on_clipboard()) ImGui::SetClipboardText(wish.to.string().c_str());
        part.said += part.work->on_clipboard() ? " It is on the clipboard as a picture."
                                               : " Its path is on the clipboard.";
    }
    part.work.reset();
    if (app.log.book) {
        const std::string said = part.said;
        tell(app, said, part.trouble);
        suggest_paths(app);
    }
    return true; // once more, to draw what was said
}

} // namespace ropeline
