// Changes that a window commits in the background, on a thread.
#include "no_memory.h"
#include "season/full_disk.h"
#include "season/sample.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <chrono>
#include <thread>

namespace ropeline {
namespace {

using sample::Folder;
using sample::FullDisk;

std::string teams_on_disk(const std::filesystem::path& path) {
    return sample::value(path, "SELECT count(*) FROM team");
}

Game long_game() {
    Game game;
    game.note = std::string(19000, 'n');
    return game;
}

} // namespace

TEST_CASE("a change committed in the background is read at once, and is on the disk once it was waited for") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    file.commit_in_background();
    Team team{{}, "Harbour Lights"};
    file.put(team);
    CHECK(file.teams().size() == 1);
    CHECK(file.undo_name() == "team");
    CHECK(teams_on_disk(path) == "0");
    file.start_commit();
    file.wait_for_commit();
    CHECK(teams_on_disk(path) == "1");

    REQUIRE(file.undo());
    CHECK(file.teams().empty());
    CHECK_FALSE(file.undo_name());
    CHECK(file.redo_name() == "team");
    CHECK(teams_on_disk(path) == "1");
    file.wait_for_commit(); // without start_commit() before it
    CHECK(teams_on_disk(path) == "0");
}

TEST_CASE("a reader beside the desk sees what is committed, and is told that there is something new") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    file.commit_in_background();
    const SeasonFile reader = SeasonFile::open_to_read(path);
    const auto before = reader.edition();
    CHECK(reader.edition() == before);
    CHECK(file.all_committed());
    Shot shot = sample::shot(ids, 10);
    file.put(shot);
    CHECK_FALSE(file.all_committed());
    CHECK(reader.edition() == before);
    CHECK(reader.shot_facts().empty());
    file.start_commit();
    file.wait_for_commit();
    CHECK(file.all_committed());
    CHECK(reader.edition() != before);
    CHECK(reader.shot_facts().size() == 1);
}

TEST_CASE("changes that come faster than the disk takes them are all kept, in their order") {
    const Folder folder;
    const auto path = folder / "a.season";
    {
        SeasonFile file = SeasonFile::create(path, sample::season());
        file.commit_in_background();
        for (int i = 0; i < 60; ++i) {
            Team team{{}, fmt::format("team {}", i)};
            file.change(fmt::format("number {}", i), [&] { file.put(team); });
            if (i % 3 != 0) file.start_commit();
            if (i % 7 == 0) CHECK(file.teams().size() == static_cast<std::size_t>(i) + 1);
            CHECK(file.undo_name() == fmt::format("number {}", i));
        }
    } // the last one is kept by closing
    CHECK(teams_on_disk(path) == "60");
    SeasonFile file = SeasonFile::open(path);
    CHECK(file.undo_name() == "number 59");
    CHECK(sample::value(path, "PRAGMA integrity_check") == "ok");
}

TEST_CASE(
    "a change the disk did not take is gone as a whole, is told once, and the next one is taken again") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    Team team{{}, "Harbour Lights"};
    file.put(team);
    file.commit_in_background();
    const auto size = static_cast<rlim_t>(std::filesystem::file_size(path));
    const auto fault_of = [&](auto&& body) -> std::optional<SeasonFault> {
        try {
            body();
            return std::nullopt;
        } catch (const SeasonError& error) {
            CHECK(std::string{error.what()}.find('\n') == std::string::npos);
            return error.fault;
        }
    };
    {
        const FullDisk full{size};
        Game game = long_game();
        file.put(game);
        CHECK(file.games().size() == 1);
        file.start_commit();
        std::optional<SeasonFault> told;
        for (int waited = 0; waited < 1000 && !told; ++waited) {
            std::this_thread::sleep_for(std::chrono::milliseconds{5});
            told = fault_of([&] { file.start_commit(); });
        }
        CHECK(told == SeasonFault::disk_full);
        CHECK(file.games().empty());
        CHECK(file.undo_name() == "team");
        CHECK_FALSE(fault_of([&] { file.start_commit(); }));

        // The change after it says so too, and is not made: it may build on what was lost.
        Game lost = long_game();
        file.put(lost);
        file.start_commit();
        Team second{{}, "Second"};
        CHECK(fault_of([&] { file.put(second); }) == SeasonFault::disk_full);
        CHECK(file.games().empty());
        CHECK(file.teams().size() == 1);

        // Reads are right whether it was told yet or not.
        Game third = long_game();
        file.put(third);
        file.start_commit();
        CHECK(file.games().empty());
        CHECK(file.undo_name() == "team");
        CHECK(fault_of([&] { file.wait_for_commit(); }) == SeasonFault::disk_full);
    }
    Game game = long_game();
    file.put(game);
    file.wait_for_commit();
    CHECK(sample::value(path, "SELECT count(*) FROM game") == "1");
    CHECK(sample::value(path, "PRAGMA integrity_check") == "ok");
}

TEST_CASE(
    "memory that runs out while a change is committed is told once, and the change is gone as a whole") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    file.commit_in_background();
    const auto size = static_cast<rlim_t>(std::filesystem::file_size(path));
    {
        const FullDisk full{size}; // so that the thread has something to say, and no memory to say it with
        const sample::NoMemoryElsewhere no_memory;
        Game game = long_game();
        file.put(game);
        file.start_commit();
        const auto refusal = sample::refusal_of([&] { file.wait_for_commit(); });
        CHECK(refusal.fault == SeasonFault::out_of_memory);
        CHECK(refusal.text.find("a.season: there is not enough memory, so the last change was not kept.") !=
              std::string::npos);
        CHECK(file.games().empty());
        CHECK_FALSE(file.undo_name());
        CHECK_NOTHROW(file.wait_for_commit());
    }
    Game game = long_game();
    file.put(game);
    CHECK_NOTHROW(file.wait_for_commit());
    CHECK(sample::value(path, "SELECT count(*) FROM game") == "1");
}

} // namespace ropeline
