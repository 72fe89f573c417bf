#include "unite/two_coaches.h"

#include <doctest/doctest.h>

#include <sys/resource.h>

#include <csignal>

namespace ropeline {
namespace {

using namespace sample;

struct Desk {
    Folder folder;
    std::filesystem::path mine = folder / "mine.season", theirs = folder / "theirs.season",
                          both = folder / "both.season";
    Shared shared = make_shared_season(mine);
    Desk() { hand_copy(mine, theirs); }

    MergeReport merge(const DecideConflict& decide = {}) { return merge_seasons(mine, theirs, both, decide); }
    std::string outcome() const {
        return value(both, "SELECT outcome FROM shot WHERE id = '" + shared.shot + "'");
    }
};

} // namespace

TEST_CASE("what two coaches added is in the united season, and neither file is touched") {
    Desk desk;
    edit(desk.mine, [&](SeasonFile& file) {
        Shot one = shot(desk.shared.ids, 90, Outcome::goal);
        file.put(one);
    });
    edit(desk.theirs, [&](SeasonFile& file) {
        Shot one = shot(desk.shared.ids, 130, Outcome::miss);
        file.put(one);
        Moment marked = moment(one.id, desk.shared.ids);
        file.put(marked);
        Answer answer;
        answer.moment_id = marked.id;
        answer.answered_at = "2026-11-25T14:03:00Z";
        file.put(answer);
    });
    const std::string mine = dump(desk.mine), theirs = dump(desk.theirs);
    const MergeReport report = desk.merge();
    CHECK(report.undecided.empty());
    CHECK(report.shots == 3);
    CHECK(report.brought == 3);
    CHECK(value(desk.both, "SELECT group_concat(frame) FROM (SELECT frame FROM shot ORDER BY frame)") ==
          "40,90,130");
    CHECK(value(desk.both, "SELECT count(*) FROM answer") == "1");
    CHECK(dump(desk.mine) == mine);
    CHECK(dump(desk.theirs) == theirs);
    CHECK(std::distance(std::filesystem::directory_iterator{desk.folder.path}, {}) >= 3);
    for (const auto& entry : std::filesystem::directory_iterator{desk.folder.path})
        CHECK(entry.path().string().find("being-made") == std::string::npos);
}

TEST_CASE("what one coach changed is as that one has it, whichever file is named first") {
    Desk desk;
    set_outcome(desk.theirs, desk.shared.shot, Outcome::goal);
    const MergeReport report = desk.merge();
    CHECK(report.changed == 1);
    CHECK(desk.outcome() == "goal");
    merge_seasons(desk.theirs, desk.mine, desk.folder / "turned.season", {});
    CHECK(dump(desk.folder / "turned.season") == dump(desk.both));
    CHECK(stamps(desk.folder / "turned.season") == stamps(desk.both));
}

TEST_CASE("what both changed is listed with both values, and nothing is written until it is decided") {
    Desk desk;
    edit(desk.mine, [&](SeasonFile& file) {
        Season season = file.season();
        season.reviewer = "Ruth";
        file.put(season);
    });
    set_outcome(desk.mine, desk.shared.shot, Outcome::goal);
    set_outcome(desk.theirs, desk.shared.shot, Outcome::post);
    const MergeReport report = desk.merge();
    REQUIRE(report.undecided.size() == 1);
    const MergeConflict& conflict = report.undecided.front();
    CHECK(conflict.id == desk.shared.shot);
    CHECK(conflict.what == "shot of Ilse Tamm, 2026-11-01, period 2, 12:35");
    REQUIRE(conflict.fields.size() == 1);
    CHECK(conflict.fields.front().field == "outcome");
    CHECK(conflict.fields.front().mine == "goal");
    CHECK(conflict.fields.front().theirs == "post");
    CHECK(conflict.mine_changed.ends_with(" by Ruth"));
    CHECK_FALSE(std::filesystem::exists(desk.both));
    CHECK(desk.merge(always(Keep::mine)).decided == 1);
    CHECK(desk.outcome() == "goal");
}

TEST_CASE("mine, theirs and the newer of the two") {
    for (const auto& [keep, outcome] :
         {std::pair{Keep::mine, "goal"}, {Keep::theirs, "post"}, {Keep::newer, "post"}}) {
        Desk desk;
        set_outcome(desk.mine, desk.shared.shot, Outcome::goal);
        set_outcome(desk.theirs, desk.shared.shot, Outcome::post);
        desk.merge(always(keep));
        CHECK(desk.outcome() == outcome);
    }
}

TEST_CASE("mine of the one order is theirs of the other, and what was decided is not asked again") {
    Desk desk;
    set_outcome(desk.mine, desk.shared.shot, Outcome::goal);
    set_outcome(desk.theirs, desk.shared.shot, Outcome::post);
    desk.merge(always(Keep::mine));
    const auto turned = desk.folder / "turned.season", again = desk.folder / "again.season";
    merge_seasons(desk.theirs, desk.mine, turned, always(Keep::theirs));
    CHECK(dump(turned) == dump(desk.both));
    CHECK(stamps(turned) == stamps(desk.both));
    for (const auto& other : {desk.mine, desk.theirs}) {
        std::filesystem::remove(again);
        CHECK(merge_seasons(desk.both, other, again, {}).undecided.empty());
        CHECK(dump(again) == dump(desk.both));
        CHECK(stamps(again) == stamps(desk.both));
    }
}

TEST_CASE(
    "a shot that one coach removed stays removed, and comes back whole when the other changed a mark of it") {
    Desk desk;
    edit(desk.mine, [&](SeasonFile& file) { file.remove_shot(desk.shared.shot); });
    CHECK(desk.merge().removed == 0);
    CHECK(value(desk.both, "SELECT count(*) FROM shot") == "0");
    std::filesystem::remove(desk.both);
    edit(desk.theirs, [&](SeasonFile& file) {
        Moment changed = file.moments(desk.shared.shot).front();
        changed.marks[1].ice = IcePoint{1.5, 9.0};
        file.put(changed);
    });
    const MergeReport report = desk.merge();
    REQUIRE_FALSE(report.told.empty());
    CHECK(report.told.front().find("removed in one file and changed in the other, so it is kept") !=
          std::string::npos);
    CHECK(desk.outcome() == "save_held");
    CHECK(value(desk.both, "SELECT count(*) FROM mark WHERE moment_id IS NOT NULL") == "2");
}

TEST_CASE("of three coaches, the first removed a shot, the second changed it, the third removed its moment: "
          "the shot "
          "stays without the moment, in whatever order they come together") {
    Desk desk;
    const auto third = desk.folder / "third.season";
    hand_copy(desk.mine, third);
    edit(desk.mine, [&](SeasonFile& file) { file.remove_shot(desk.shared.shot); });
    set_outcome(desk.theirs, desk.shared.shot, Outcome::goal);
    edit(third, [&](SeasonFile& file) { file.remove_moment(desk.shared.moment); });
    const std::array<std::array<std::filesystem::path, 3>, 3> orders{
        {{desk.mine, desk.theirs, third}, {desk.mine, third, desk.theirs}, {third, desk.theirs, desk.mine}}};
    for (const auto& order : orders) {
        const auto two = desk.folder / "two.season", all = desk.folder / "all.season";
        for (const auto& made : {two, all})
            std::filesystem::remove(made);
        CHECK(merge_seasons(order[0], order[1], two, {}).undecided.empty());
        CHECK(merge_seasons(two, order[2], all, {}).undecided.empty());
        CHECK(value(all, "SELECT group_concat(outcome) FROM shot") == "goal");
        CHECK(value(all, "SELECT count(*) FROM moment") == "0");
    }
}

TEST_CASE("a shot that comes back has what was marked on it, though no file has that any more") {
    Desk desk;
    const auto third = desk.folder / "third.season", two = desk.folder / "two.season";
    hand_copy(desk.mine, third);
    edit(desk.mine, [&](SeasonFile& file) {
        Moment added = moment(desk.shared.shot, desk.shared.ids, 1.3);
        added.kind = MomentKind::pass;
        file.put(added);
        file.remove_shot(desk.shared.shot);
    });
    CHECK(value(desk.mine, "SELECT count(*) FROM moment") == "0");
    merge_seasons(desk.mine, desk.theirs, two, {});
    CHECK(value(two, "SELECT count(*) FROM shot") == "0");
    set_outcome(third, desk.shared.shot, Outcome::goal);
    merge_seasons(two, third, desk.both, {});
    CHECK(value(desk.both,
                "SELECT outcome || ' ' || (SELECT count(*) FROM moment) || ' ' || (SELECT count(*) FROM "
                "mark WHERE moment_id IS NOT NULL) FROM shot") == "goal 2 4");
}

TEST_CASE("a shot that one coach changed and then removed, while the other changed it, is asked for") {
    Desk desk;
    set_outcome(desk.mine, desk.shared.shot, Outcome::goal);
    edit(desk.mine, [&](SeasonFile& file) { file.remove_shot(desk.shared.shot); });
    set_outcome(desk.theirs, desk.shared.shot, Outcome::post);
    const MergeReport report = desk.merge();
    REQUIRE(report.undecided.size() == 1);
    CHECK(report.undecided.front().fields.front().mine == "goal");
    CHECK(report.undecided.front().mine_changed.ends_with(", then removed"));
    desk.merge(always(Keep::theirs));
    CHECK(desk.outcome() == "post");
}

TEST_CASE("a game that comes back for a new shot brings its other shots, and they their goalie") {
    Desk desk;
    Ids added = desk.shared.ids;
    edit(desk.mine, [&](SeasonFile& file) {
        Goalie goalie{{}, {}, "Quenby Halloran", "left"};
        file.put(goalie);
        Game game{{}, "2026-12-01", {}, {}, RuleBookId::iihf, ""};
        file.put(game);
        added.goalie = goalie.id;
        added.game = game.id;
        added.film.clear();
        Shot one = shot(added, 0);
        file.put(one);
    });
    hand_copy(desk.mine, desk.theirs);
    edit(desk.mine, [](SeasonFile& file) {
        for (int i = 0; i < 3; ++i)
            file.undo();
    });
    CHECK(value(desk.mine, "SELECT count(*) FROM game") == "1");
    edit(desk.theirs, [&](SeasonFile& file) {
        Ids ids = added;
        ids.goalie = desk.shared.ids.goalie;
        Shot one = shot(ids, 0);
        file.put(one);
    });
    const MergeReport report = desk.merge();
    CHECK(value(desk.both, "SELECT (SELECT count(*) FROM shot) || ' ' || (SELECT count(*) FROM goalie)") ==
          "3 2");
    CHECK(std::ranges::count(
              report.told,
              "removed in one file and needed in the other, so it is kept: game of 2026-12-01") == 1);
    CHECK(std::ranges::count(
              report.told,
              "removed in one file and needed in the other, so it is kept: goalie Quenby Halloran") == 1);
}

TEST_CASE("a desk goes on writing to a season that is being merged, while a person still decides") {
    Desk desk;
    set_outcome(desk.mine, desk.shared.shot, Outcome::goal);
    set_outcome(desk.theirs, desk.shared.shot, Outcome::post);
    desk.merge([&](const MergeConflict&) {
        edit(desk.mine, [&](SeasonFile& file) {
            Shot one = shot(desk.shared.ids, 90);
            file.put(one);
        });
        return Keep::mine;
    });
    CHECK(value(desk.mine, "SELECT count(*) FROM shot") == "2");
    CHECK(value(desk.both, "SELECT count(*) FROM shot") == "1"); // as it was when merging began
}

TEST_CASE("undoing a change is a change: it is not brought back by a copy that still has it") {
    Desk desk;
    edit(desk.mine, [&](SeasonFile& file) {
        Shot one = shot(desk.shared.ids, 90);
        file.change("new shot", [&] { file.put(one); });
        Shot changed = shot_of(file, desk.shared.shot);
        changed.outcome = Outcome::goal;
        file.change("outcome", [&] { file.put(changed); });
    });
    hand_copy(desk.mine, desk.theirs);
    edit(desk.mine, [](SeasonFile& file) {
        file.undo();
        file.undo();
    });
    desk.merge();
    CHECK(desk.outcome() == "save_held");
    CHECK(value(desk.both, "SELECT count(*) FROM shot") == "1");
    std::filesystem::remove(desk.both);
    edit(desk.mine, [](SeasonFile& file) {
        file.redo();
        file.redo();
    });
    desk.merge();
    CHECK(desk.outcome() == "goal");
    CHECK(value(desk.both, "SELECT count(*) FROM shot") == "2");
}

TEST_CASE("figures that are worked out again are no change of anybody's") {
    Desk desk;
    const std::string before = stamps(desk.mine);
    edit(desk.mine, [](SeasonFile& file) { recompute(file); });
    CHECK(stamps(desk.mine) == before);
}

TEST_CASE("a goalie whose speed one coach changed has the figures of the other's shots worked out again") {
    Desk desk;
    edit(desk.mine, [&](SeasonFile& file) {
        Goalie goalie = file.goalies().front();
        goalie.blocking_width_m = 1.4;
        file.put(goalie);
        recompute(file);
    });
    edit(desk.theirs, [&](SeasonFile& file) {
        Shot one = shot(desk.shared.ids, 130);
        file.put(one);
        Moment marked = moment(one.id, desk.shared.ids);
        file.put(marked);
        recompute(file);
    });
    CHECK(desk.merge().worked_out == 1);
    CHECK(value(desk.both, "SELECT count(DISTINCT coverage) || ' ' || count(coverage) FROM moment") == "1 2");
    CHECK(value(desk.both, "SELECT max(coverage) FROM moment") ==
          value(desk.mine, "SELECT coverage FROM moment"));
}

TEST_CASE(
    "the same team, goalie, game and film added by both are one, the older record stands, and it is told") {
    const Folder folder;
    const auto mine = folder / "mine.season", theirs = folder / "theirs.season",
               both = folder / "both.season";
    Ids my_ids, their_ids;
    {
        SeasonFile file = SeasonFile::create(mine, season());
        my_ids = fill(file);
        Shot one = shot(my_ids, 40);
        file.put(one);
    }
    {
        SeasonFile file = SeasonFile::create(theirs, season());
        their_ids = fill(file);
        Shot one = shot(their_ids, 90);
        file.put(one);
        ClockMark mark{{}, their_ids.film, 300, 153600, 10.0, 2, 700.0, true};
        file.put(mark);
    }
    const MergeReport report = merge_seasons(mine, theirs, both, {});
    CHECK(report.told == std::vector<std::string>{"both had added the team Quarry Lamps: it is one now",
                                                  "both had added the team Saltmarsh Herons: it is one now",
                                                  "both had added the goalie Ilse Tamm: it is one now",
                                                  "both had added the game of 2026-11-01: it is one now"});
    CHECK(value(both, "SELECT (SELECT count(*) FROM team) || (SELECT count(*) FROM goalie) || (SELECT "
                      "count(*) FROM game) "
                      "|| (SELECT count(*) FROM film) || (SELECT count(*) FROM season)") == "21111");
    CHECK(value(both, "SELECT id FROM goalie") == my_ids.goalie);
    CHECK(value(both, "SELECT count(*) FROM shot_facts WHERE goalie = 'Ilse Tamm'") == "2");
    // A name put right in the united season does not part them again.
    edit(both, [](SeasonFile& file) {
        Goalie goalie = file.goalies().front();
        goalie.name = "Ilse Tamme";
        file.put(goalie);
    });
    const auto again = folder / "again.season";
    merge_seasons(both, theirs, again, {});
    CHECK(value(again, "SELECT group_concat(name) FROM goalie") == "Ilse Tamme");
}

TEST_CASE("two goalies of one name in one file are not told apart, so all are kept and it is told") {
    const Folder folder;
    const auto mine = folder / "mine.season", theirs = folder / "theirs.season",
               both = folder / "both.season";
    for (const auto& path : {mine, theirs}) {
        SeasonFile file = SeasonFile::create(path, season());
        Goalie goalie{{}, {}, "Ilse Tamm", ""};
        file.put(goalie);
        if (path == theirs) {
            Goalie second{{}, {}, "Ilse Tamm", "right"};
            file.put(second);
        }
    }
    const MergeReport report = merge_seasons(mine, theirs, both, {});
    CHECK(report.told ==
          std::vector<std::string>{"there are several goalies that look alike (Ilse Tamm): all are kept"});
    CHECK(value(both, "SELECT count(*) FROM goalie") == "3");
}

TEST_CASE("a season that cannot be read or written is one clear line, and nothing is left behind") {
    Desk desk;
    const auto damaged = desk.folder / "damaged.season", newer = desk.folder / "newer.season";
    hand_copy(desk.mine, newer);
    run(newer, "PRAGMA user_version = 99");
    hand_copy(desk.mine, damaged);
    run(damaged, "PRAGMA foreign_keys = OFF; INSERT INTO shot (id, game_id, frame, pts_ticks, film_s) VALUES "
                 "('01900000-0000-7000-8000-000000000001', '01900000-0000-7000-8000-000000000002', 0, 0, 0)");
    const auto entries = [&] {
        return std::distance(std::filesystem::directory_iterator{desk.folder.path}, {});
    };
    const auto before = entries();
    const auto refused = [&](const std::filesystem::path& theirs, const std::filesystem::path& into) {
        const Refusal refusal = refusal_of([&] { merge_seasons(desk.mine, theirs, into, {}); });
        CHECK(entries() == before);
        return refusal.fault;
    };
    CHECK(refused(newer, desk.both) == SeasonFault::newer);
    CHECK(refused(damaged, desk.both) == SeasonFault::damaged);
    CHECK(refused(desk.folder / "none.season", desk.both) == SeasonFault::not_found);
    CHECK(refused(desk.theirs, desk.mine) == SeasonFault::exists);
    CHECK(refused(desk.theirs, desk.folder / "no" / "both.season") == SeasonFault::not_found);
}

TEST_CASE("a full disk leaves no half of a united season") {
    Desk desk;
    const ChildEnd end = run_apart(
        [] {
            const rlimit limit{100'000, 100'000};
            std::signal(SIGXFSZ, SIG_IGN);
            return ::setrlimit(RLIMIT_FSIZE, &limit) == 0;
        },
        [&] { desk.merge(); });
    REQUIRE(end.prepared);
    CHECK(end.fault == SeasonFault::disk_full);
    CHECK_FALSE(std::filesystem::exists(desk.both));
}

} // namespace ropeline
