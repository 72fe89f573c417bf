// Another coach's season brought in on the desk: asked before anything is written, made beside, opened when asked for.
#include "desk/commands.h"
#include "desk/made_book.h"

#include <doctest/doctest.h>

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <optional>
#include <thread>

using namespace ropeline;

namespace {

/// A season with one shot, and a colleague's copy of it.
struct TwoCoaches {
    test::Folder folder;
    std::filesystem::path mine = folder.path / "mine.season", theirs = folder.path / "theirs.season";
    App app;

    TwoCoaches() {
        setenv("XDG_CONFIG_HOME", folder.path.c_str(), 1);
        setenv("HOME", folder.path.c_str(), 1);
        {
            LogBook book = test::begun(mine);
            book.apply(NewShot{}, test::at(100));
        }
        std::filesystem::copy_file(mine, theirs);
    }
    static void set_outcome(const std::filesystem::path& path, Outcome outcome) {
        SeasonFile file = SeasonFile::open(path);
        Shot shot = file.shots(file.games()[0].id).at(0);
        shot.outcome = outcome;
        file.put(shot);
    }
    static std::optional<Outcome> outcome(const std::filesystem::path& path) {
        const SeasonFile file = SeasonFile::open_to_read(path);
        return file.shots(file.games()[0].id).at(0).outcome;
    }
    void act(const DeskAction& action) {
        app.actions.push_back(action);
        settle();
    }
    void settle() {
        for (int still = 0; still < 3;) {
            still = update(app) ? 0 : still + 1;
            if (app.log.book) app.log.book->start_commit();
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
    }
};

} // namespace

TEST_CASE("another coach's season: whose stays is said first, then both are one season that opens") {
    TwoCoaches at;
    TwoCoaches::set_outcome(at.mine, Outcome::save_held);
    TwoCoaches::set_outcome(at.theirs, Outcome::goal);
    open_season(at.app, at.mine);
    bring_in_season(at.app, at.theirs);
    CHECK(at.app.unite.open);
    CHECK(at.app.unite.into == "~/mine with theirs.season");
    const std::filesystem::path into = at.folder.path / "mine with theirs.season";

    at.act(MakeOneSeason{});
    REQUIRE(at.app.unite.conflicts.size() == 1);
    CHECK(at.app.unite.conflicts[0].what.find("shot") != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(into));
    CHECK_FALSE(all_decided(at.app.unite));

    at.act(DecideBetween{at.app.unite.conflicts[0].id, Keep::mine});
    CHECK(all_decided(at.app.unite));
    at.act(DecideBetween{{}, Keep::theirs});
    at.act(MakeOneSeason{});
    CHECK(at.app.unite.trouble.empty());
    REQUIRE(at.app.unite.made);
    CHECK(at.app.unite.made->decided == 1);
    CHECK(at.app.unite.made->shots == 1);

    at.act(OpenOneSeason{});
    CHECK(at.app.log.book->file().path() == into);
    CHECK(at.app.log.state().shots.at(0).shot.outcome == Outcome::goal);
    CHECK_FALSE(at.app.unite.open);
    CHECK(TwoCoaches::outcome(at.mine) == Outcome::save_held);
    CHECK(TwoCoaches::outcome(at.theirs) == Outcome::goal);
}

TEST_CASE("what the other coach alone changed comes in without a question, and what is logged here meanwhile "
          "with it") {
    TwoCoaches at;
    TwoCoaches::set_outcome(at.theirs, Outcome::goal);
    open_season(at.app, at.mine);
    at.app.log.book->apply(NewShot{}, test::at(300));
    bring_in_season(at.app, at.theirs);
    at.act(MakeOneSeason{});
    REQUIRE(at.app.unite.made);
    CHECK(at.app.unite.made->shots == 2);
    CHECK(at.app.unite.made->changed == 1);
}

TEST_CASE("the page may be closed while the two are laid together: what came of it is told") {
    TwoCoaches at;
    open_season(at.app, at.mine);
    bring_in_season(at.app, at.theirs);
    make_one_season(at.app);
    put_down(at.app);
    CHECK_FALSE(at.app.unite.open);
    at.settle();
    CHECK(at.app.log.state().notice.text.find("mine with theirs.season") != std::string::npos);
    CHECK_FALSE(at.app.log.state().notice.trouble);
}

TEST_CASE(
    "what is no season, or goes where something is, is told in a line on the page and nothing is written") {
    TwoCoaches at;
    std::ofstream(at.theirs, std::ios::trunc) << "a letter, not a season";
    open_season(at.app, at.mine);
    bring_in_season(at.app, at.theirs);
    at.act(MakeOneSeason{});
    CHECK(at.app.unite.trouble.find("theirs.season") != std::string::npos);
    CHECK(at.app.unite.trouble.find('\n') == std::string::npos);
    CHECK_FALSE(at.app.unite.made);

    at.app.unite.into = "~/both";
    at.act(MakeOneSeason{});
    CHECK(at.app.unite.trouble == "A season is a .season file: name it something.season.");

    std::filesystem::copy_file(at.mine, at.theirs, std::filesystem::copy_options::overwrite_existing);
    at.app.unite.into = "~/mine.season";
    at.act(MakeOneSeason{});
    CHECK(at.app.unite.trouble.find("mine.season") != std::string::npos);
    CHECK(at.app.log.state().shots.size() == 1);

    put_down(at.app);
    CHECK_FALSE(at.app.unite.open);
}
