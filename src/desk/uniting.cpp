// Another coach's season made into one with the open one, on a thread: a third file; the two stay as they are.
#include "desk/app.h"

#include <fmt/core.h>

#include <algorithm>
#include <exception>
#include <utility>

namespace ropeline {

namespace {

constexpr int gives_way = 5;

std::string path_beside(const std::filesystem::path& mine, const std::filesystem::path& theirs) {
    const std::string name = mine.stem().string() + " with " + theirs.stem().string();
    std::filesystem::path path = mine.parent_path() / (name + ".season");
    std::error_code failed;
    for (int number = 2; std::filesystem::exists(path, failed); ++number)
        path = mine.parent_path() / fmt::format("{} {}.season", name, number);
    return shown_place(path);
}

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

} // namespace

bool all_decided(const UnitePart& part) {
    return std::ranges::all_of(
        part.conflicts, [&](const MergeConflict& conflict) { return part.decided.contains(conflict.id); });
}

void bring_in_season(App& app, const std::filesystem::path& theirs) {
    if (!app.log.book) return;
    close_all(app.pages);
    app.exports.open = false;
    app.unite = {};
    app.unite.open = true;
    app.unite.theirs = theirs;
    app.unite.into = path_beside(app.log.book->file().path(), theirs);
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
    if (app.log.book->wait_for_commit()) return; // the thread reads what is on the disk
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
    if (part.work->finished()) take_report(part, *std::exchange(part.work, nullptr));
    return true;
}

} // namespace ropeline
