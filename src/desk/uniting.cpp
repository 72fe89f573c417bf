// Another coach's season made into one with the open one, on a thread: a third file; the two stay as they are.
#include "desk/app.h"

#include <fmt/core.h>

#include <algorithm>
#include <exception>
#include <utility>

namespace ropeline {

namespace {

constexpr int gives_way = 5;

void take_report(UnitePart& part, BackgroundWork<MergeReport>& work) {
    try {
        auto report = work.take();
        if (!report) return;
        part.conflicts = std::move(report->undecided);
        if (part.conflicts.empty()) part.made = std::move(report);
    } catch (const std::exception& error) {
        part.trouble = error.what();
    }
}

/// For who went on with something else meanwhile.
std::string outcome_words(const UnitePart& part) {
    if (part.made) return fmt::format("Both coaches' season is {}.", part.made_at.string());
    if (!part.trouble.empty()) return part.trouble;
    return fmt::format("You both changed something in {}: bring it in again and say whose stays.",
                       part.theirs.filename().string());
}

} // namespace

bool all_decided(const UnitePart& part) {
    return std::ranges::all_of(
        part.conflicts, [&](const MergeConflict& conflict) { return part.decided.contains(conflict.id); });
}

void bring_in_season(App& app, const std::filesystem::path& theirs) {
    if (!app.log.book) return;
    close_all(app.pages);
    app.exports.open = false;
    if (app.unite.work) { // one at a time
        app.unite.open = true;
        return;
    }
    app.unite = {};
    app.unite.open = true;
    app.unite.theirs = theirs;
    const std::filesystem::path& mine = app.log.book->file().path();
    app.unite.into = shown_place(free_path(
        mine.parent_path() / (mine.stem().string() + " with " + theirs.stem().string() + ".season")));
}

void make_one_season(App& app) {
    UnitePart& part = app.unite;
    if (part.work || part.made) return;
    part.made_at = resolved_path(app, spelled_out(part.into).string());
    part.trouble.clear();
    if (part.made_at.extension() != ".season") {
        part.trouble = "A season is a .season file: name it something.season.";
        return;
    }
    if (app.log.book->wait_for_commit()) { // the thread reads what is on the disk
        part.trouble = app.log.state().notice.text;
        return;
    }
    part.work = std::make_unique<BackgroundWork<MergeReport>>(
        gives_way,
        [mine = app.log.book->file().path(), theirs = part.theirs, into = part.made_at,
         decided = part.decided](const WorkOnItsWay& way) -> std::optional<MergeReport> {
            const auto decide = [&](const MergeConflict& conflict) -> std::optional<Keep> {
                const auto found = decided.find(conflict.id);
                return found == decided.end() ? std::nullopt : std::optional{found->second};
            };
            return merge_seasons(mine, theirs, into, decide, way.report);
        });
}

void decide_between(App& app, const Id& id, Keep keep) {
    for (const MergeConflict& conflict : app.unite.conflicts)
        if (id.empty() || conflict.id == id) app.unite.decided[conflict.id] = keep;
}

void open_one_season(App& app) {
    if (app.unite.made) open_season(app, std::filesystem::path{app.unite.made_at});
}

bool watch_uniting(App& app) {
    UnitePart& part = app.unite;
    if (!part.work) return false;
    if (!part.work->finished()) return true;
    take_report(part, *std::exchange(part.work, nullptr));
    if (!part.open) tell(app, outcome_words(part), !part.made);
    return true;
}

} // namespace ropeline
