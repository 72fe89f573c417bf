// Ends a writer in the middle of its work, or takes its room away, and looks at what is left.
#include "season/sample.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <fcntl.h>
#include <sched.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <fstream>
#include <random>

namespace ropeline {
namespace {

using sample::Folder;

/// Logs shots for ever; says each shot's frame into the pipe once the change is acknowledged.
[[noreturn]] void log_shots(const std::filesystem::path& path, int pipe) {
    SeasonFile file = SeasonFile::open(path);
    sample::Ids ids;
    ids.game = file.games()[0].id;
    ids.goalie = file.goalies()[0].id;
    ids.film = file.films(ids.game)[0].id;
    auto frame = static_cast<std::int64_t>(file.shots(ids.game).size());
    for (;;) {
        ++frame;
        file.change("shot", [&] {
            Shot shot = sample::shot(ids, frame);
            file.put(shot);
            Moment moment = sample::moment(shot.id, ids);
            file.put(moment);
        });
        if (::write(pipe, &frame, sizeof frame) != sizeof frame) ::_exit(1);
    }
}

/// A file size limit stands in for a full disk: the system refuses to let a file grow.
bool no_file_beyond(rlim_t bytes) {
    std::signal(SIGXFSZ, SIG_IGN);
    const rlimit limit{bytes, bytes};
    return ::setrlimit(RLIMIT_FSIZE, &limit) == 0;
}

/// Puts games with long notes until one is refused; that one must have left nothing.
void fill_up(SeasonFile& file) {
    for (int i = 0; i < 200; ++i) {
        Game game;
        game.note = std::string(19000, 'n');
        const auto counted = file.games().size();
        try {
            file.put(game);
        } catch (const SeasonError&) {
            if (file.games().size() != counted) ::_exit(103);
            throw;
        }
    }
}

} // namespace

TEST_CASE("killing the desk loses no acknowledged change and leaves a sound file") {
    const Folder folder;
    const auto path = folder / "a.season";
    Id game;
    {
        SeasonFile file = SeasonFile::create(path, sample::season());
        game = sample::fill(file).game;
    }
    std::mt19937 random{20261125};
    std::int64_t acknowledged = 0;
    int journals = 0;
    for (int round = 0; round < 25 / sample::fewer; ++round) {
        int ends[2];
        REQUIRE(::pipe(ends) == 0);
        const pid_t child = ::fork();
        if (child == 0) {
            ::close(ends[0]);
            log_shots(path, ends[1]);
        }
        ::close(ends[1]);
        std::int64_t frame = 0;
        const auto wanted = 1 + static_cast<int>(random() % 5);
        for (int i = 0; i < wanted && ::read(ends[0], &frame, sizeof frame) == sizeof frame; ++i)
            acknowledged = frame;
        ::usleep(static_cast<useconds_t>(random() % 4000));
        ::kill(child, SIGKILL);
        while (::read(ends[0], &frame, sizeof frame) == sizeof frame)
            acknowledged = frame;
        ::close(ends[0]);
        int status = 0;
        ::waitpid(child, &status, 0);
        REQUIRE(WIFSIGNALED(status));
        if (std::filesystem::exists(folder / "a.season-journal")) ++journals;

        // A reader first: it must see the same, also when it finds the killed writer's journal.
        const std::size_t seen = SeasonFile::open_to_read(path).shot_facts().size();
        SeasonFile file = SeasonFile::open(path);
        const auto shots = file.shots(game);
        CHECK(seen == shots.size());
        // The change under way when the kill came may or may not have been kept; whole in either case.
        CHECK(shots.size() >= static_cast<std::size_t>(acknowledged));
        CHECK(shots.size() <= static_cast<std::size_t>(acknowledged) + 1);
        for (const Shot& shot : shots)
            CHECK(file.moments(shot.id).size() == 1);
        CHECK(file.undo_name() == "shot");
    }
    MESSAGE("kills that left a journal: ", journals, ", shots kept: ", acknowledged);
    CHECK(sample::value(path, "PRAGMA integrity_check") == "ok");
    CHECK(sample::value(path, "SELECT count(*) FROM pragma_foreign_key_check") == "0");
}

TEST_CASE("no room on the disk: one clear refusal, the season stays as it was and works again later") {
    const Folder folder;
    const auto path = folder / "a.season";
    {
        SeasonFile file = SeasonFile::create(path, sample::season());
        sample::fill(file);
    }
    const std::string before = sample::dump(path);
    const auto size = static_cast<rlim_t>(std::filesystem::file_size(path));
    const auto end = sample::run_apart([&] { return no_file_beyond(size); },
                                       [&] {
                                           SeasonFile file = SeasonFile::open(path);
                                           fill_up(file);
                                       });
    CHECK(end.prepared);
    CHECK(end.fault == SeasonFault::disk_full);
    CHECK(sample::value(path, "PRAGMA integrity_check") == "ok");
    CHECK(sample::dump(path).starts_with(before.substr(0, 100)));
    {
        SeasonFile file = SeasonFile::open(path);
        Team team{{}, "There is room again"};
        file.put(team);
    }
    const auto creation =
        sample::run_apart([] { return no_file_beyond(8192); },
                          [&] { SeasonFile::create(folder / "new.season", sample::season()); });
    CHECK(creation.fault == SeasonFault::disk_full);
    for (const auto& entry : std::filesystem::directory_iterator(folder.path))
        CHECK_MESSAGE(entry.path().filename().string().starts_with("a.season"), entry.path().string());
}

// A new season takes 283 kB, as much again its backup, and the picture on the disk 120 kB: some 80 kB are left to fill.
TEST_CASE("a disk of 750 kB runs full in the middle of a season, and takes shots again once there is room") {
    const Folder folder;
    const auto path = folder / "a.season";
    const auto small_disk = [&] {
        return ::unshare(CLONE_NEWNS) == 0 &&
               ::mount(nullptr, "/", nullptr, MS_REC | MS_PRIVATE, nullptr) == 0 &&
               ::mount("none", folder.path.c_str(), "tmpfs", 0, "size=750k") == 0;
    };
    const auto end = sample::run_apart(small_disk, [&] {
        SeasonFile file = SeasonFile::create(path, sample::season());
        sample::fill(file);
        std::ofstream{folder / "holiday.jpg"} << std::string(120000, 'h');
        try {
            fill_up(file);
            ::_exit(110);
        } catch (const SeasonError& error) {
            if (error.fault != SeasonFault::disk_full) throw;
        }
        const auto games = file.games().size();
        std::filesystem::remove(folder / "holiday.jpg");
        Game game;
        file.put(game);
        if (file.games().size() != games + 1) ::_exit(111);
        if (sample::value(path, "PRAGMA integrity_check") != "ok") ::_exit(112);
    });
    if (!end.prepared) {
        MESSAGE("no leave to mount a small disk here; the file size limit above stands in for it");
        return;
    }
    CHECK_FALSE(end.fault);
    CHECK_FALSE(end.other);
}

} // namespace ropeline
