#include "season/sample.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <sys/stat.h>
#include <unistd.h>

#include <fstream>

namespace ropeline {
namespace {

using sample::Folder;
using sample::refusal_of;

void write(const std::filesystem::path& path, const std::string& bytes) {
    std::ofstream{path, std::ios::binary} << bytes;
}

std::string read(const std::filesystem::path& path) {
    std::ifstream file{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, {}};
}

/// Names in the folder, to see that nothing is left behind.
std::vector<std::string> names(const Folder& folder) {
    std::vector<std::string> found;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path))
        found.push_back(entry.path().filename());
    std::sort(found.begin(), found.end());
    return found;
}

void make(const std::filesystem::path& path) {
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    for (int i = 0; i < 30; ++i) {
        Shot shot = sample::shot(ids, 40 + i);
        file.put(shot);
        Moment moment = sample::moment(shot.id, ids);
        file.put(moment);
    }
}

SeasonFault open_fault(const std::filesystem::path& path) {
    const auto refusal = refusal_of([&] { SeasonFile::open(path); });
    CHECK(refusal.text.find(path.filename().string()) != std::string::npos);
    const auto reading = refusal_of([&] { SeasonFile::open_to_read(path); });
    CHECK(reading.fault == refusal.fault);
    return refusal.fault;
}

bool went_through(const sample::ChildEnd& end) {
    return end.prepared && !end.fault && !end.other;
}

/// Root may write anywhere, so the body runs as somebody else.
sample::ChildEnd run_as_nobody(const std::function<void()>& body) {
    return sample::run_apart([] { return ::getuid() != 0 || (::setgid(65534) == 0 && ::setuid(65534) == 0); },
                             body);
}

} // namespace

TEST_CASE("what is not a season file is refused and left alone") {
    const Folder folder;
    CHECK(open_fault(folder / "none.season") == SeasonFault::not_found);
    std::filesystem::create_directory(folder / "folder.season");
    CHECK(open_fault(folder / "folder.season") == SeasonFault::not_sqlite);
    const std::string text(5000, 'x');
    write(folder / "text.season", text);
    CHECK(open_fault(folder / "text.season") == SeasonFault::not_sqlite);
    CHECK(read(folder / "text.season") == text);
    write(folder / "empty.season", "");
    CHECK(open_fault(folder / "empty.season") == SeasonFault::not_ours);
    CHECK(read(folder / "empty.season").empty());
    {
        SQLite::Database other{(folder / "other.season").string(),
                               SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
        other.exec("CREATE TABLE shot (id); PRAGMA application_id = 1196444487");
    }
    CHECK(open_fault(folder / "other.season") == SeasonFault::not_ours);
    CHECK(names(folder) ==
          std::vector<std::string>{"empty.season", "folder.season", "other.season", "text.season"});
}

TEST_CASE("a season of a newer version is refused and left alone") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    sample::run(path, "PRAGMA user_version = 2");
    const std::string bytes = read(path);
    CHECK(open_fault(path) == SeasonFault::newer);
    CHECK(read(path) == bytes);
}

TEST_CASE("create does not overwrite, and says so when the folder is missing") {
    const Folder folder;
    write(folder / "a.season", "precious");
    CHECK(refusal_of([&] { SeasonFile::create(folder / "a.season", sample::season()); }).fault ==
          SeasonFault::exists);
    CHECK(read(folder / "a.season") == "precious");
    CHECK(refusal_of([&] { SeasonFile::create(folder / "none/a.season", sample::season()); }).fault ==
          SeasonFault::not_found);
}

TEST_CASE("one file at rest, and a backup beside it") {
    const Folder folder;
    make(folder / "a.season");
    CHECK(names(folder) == std::vector<std::string>{"a.season", "a.season.backup"});
    CHECK(sample::dump(folder / "a.season.backup") == sample::dump(folder / "a.season"));
}

TEST_CASE("a truncated season is refused, wherever it was cut") {
    const Folder folder;
    make(folder / "whole.season");
    const std::string whole = read(folder / "whole.season");
    const auto path = folder / "cut.season";
    for (const std::size_t size :
         {std::size_t{20}, std::size_t{99}, std::size_t{100}, std::size_t{512}, std::size_t{4095},
          std::size_t{4096}, std::size_t{8192}, whole.size() / 2, whole.size() - 4096, whole.size() - 1}) {
        CAPTURE(size);
        write(path, whole.substr(0, size));
        const SeasonFault fault = open_fault(path);
        CHECK((fault == SeasonFault::damaged || fault == SeasonFault::not_sqlite));
        CHECK(read(path) == whole.substr(0, size));
    }
}

TEST_CASE("bytes gone bad end in a refusal or a sound season, never in a crash") {
    const Folder folder;
    make(folder / "whole.season");
    const std::string whole = read(folder / "whole.season");
    const auto path = folder / "bad.season";
    int refused = 0;
    unsigned random = 12345;
    for (int round = 0; round < 150 / sample::fewer; ++round) {
        std::string bytes = whole;
        for (int i = 0; i < 8; ++i) {
            random = random * 1664525U + 1013904223U;
            bytes[(random >> 4) % bytes.size()] = static_cast<char>(random >> 24);
        }
        write(path, bytes);
        try {
            const SeasonFile file = SeasonFile::open_to_read(path);
            file.season();
            for (const Game& game : file.games())
                for (const Shot& shot : file.shots(game.id))
                    file.moments(shot.id);
            file.shot_facts();
        } catch (const SeasonError&) {
            ++refused;
        }
    }
    CHECK(refused > 0);
}

TEST_CASE("a read-only file or folder can be read, and opening it for writing is refused") {
    const Folder folder;
    std::filesystem::create_directory(folder / "shelf");
    const auto path = folder / "shelf/a.season";
    make(path);
    std::filesystem::remove(folder / "shelf/a.season.backup");
    ::chmod(folder.path.c_str(), 0755);
    ::chmod((folder / "shelf").c_str(), 0555);
    ::chmod(path.c_str(), 0444);
    CHECK(run_as_nobody([&] { SeasonFile::open(path); }).fault == SeasonFault::read_only);
    CHECK(went_through(run_as_nobody([&] {
        if (SeasonFile::open_to_read(path).shot_facts().size() != 30) ::_exit(103);
    })));
    CHECK(run_as_nobody([&] { SeasonFile::create(folder / "shelf/b.season", sample::season()); }).fault ==
          SeasonFault::read_only);
    ::chmod(path.c_str(), 0000);
    CHECK(run_as_nobody([&] { SeasonFile::open_to_read(path); }).fault == SeasonFault::read_only);
    ::chmod((folder / "shelf").c_str(), 0755);
    CHECK(names(folder) == std::vector<std::string>{"shelf"});
}

TEST_CASE("a season opened to be read refuses changes and stays as it was") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    const std::string bytes = read(path);
    SeasonFile file = SeasonFile::open_to_read(path);
    Team team{{}, "Late"};
    CHECK(refusal_of([&] { file.put(team); }).fault == SeasonFault::read_only);
    CHECK(refusal_of([&] { file.undo(); }).fault == SeasonFault::read_only);
    CHECK(file.undo_name() == "moment");
    CHECK(read(path) == bytes);
}

TEST_CASE("two desks on one season: the second is refused, readers are not") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    {
        SeasonFile first = SeasonFile::open(path);
        ::chmod(folder.path.c_str(), 0755);
        const auto refusal = refusal_of([&] { SeasonFile::open(path); });
        CHECK(refusal.fault == SeasonFault::locked);
        CHECK(refusal.text.find(std::to_string(::getpid())) != std::string::npos);
        CHECK(went_through(run_as_nobody([&] { SeasonFile::open_to_read(path); })));
        CHECK(SeasonFile::open_to_read(path).shot_facts().size() == 30);
        Team team{{}, "Still writing"};
        first.put(team);
        std::filesystem::create_symlink(path, folder / "same.season");
        CHECK(refusal_of([&] { SeasonFile::open(folder / "same.season"); }).fault == SeasonFault::locked);
    }
    CHECK(SeasonFile::open(path).teams().size() == 3);
}

TEST_CASE("another program that holds the file makes a change fail whole, not half") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    SeasonFile file = SeasonFile::open(path);
    const std::string before = sample::dump(path);
    {
        SQLite::Database other{path.string(), SQLite::OPEN_READWRITE};
        other.exec("BEGIN IMMEDIATE");
        Team team{{}, "Late"};
        CHECK(refusal_of([&] { file.put(team); }).fault == SeasonFault::locked);
        CHECK(team.id.empty());
    }
    CHECK(sample::dump(path) == before);
    Team team{{}, "In time"};
    file.put(team);
    CHECK(file.teams().size() == 3);
}

TEST_CASE("a file edited by hand: unknown words, foreign tables and triggers") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    SUBCASE("an unknown outcome") {
        sample::run(path, "PRAGMA ignore_check_constraints = ON; UPDATE shot SET outcome = 'robbed'");
        const auto refusal = refusal_of([&] { SeasonFile::open(path); });
        CHECK(refusal.fault == SeasonFault::damaged);
        CHECK(refusal.text.find("shot") != std::string::npos);
    }
    SUBCASE("a rule book of the future") {
        sample::run(path, "UPDATE season SET rules = 'pond'");
        CHECK(refusal_of([&] { SeasonFile::open(path).season(); }).text.find("pond") != std::string::npos);
    }
    SUBCASE("a parameter that is none") {
        sample::run(path, "INSERT INTO parameter VALUES ('luck', 1.0, 's')");
        CHECK(refusal_of([&] { SeasonFile::open(path).season(); }).text.find("luck") != std::string::npos);
    }
    SUBCASE("a fit that is no matrix") {
        sample::run(path, "UPDATE rink_fit SET covariance = '[1, 2, oops]'");
        SeasonFile file = SeasonFile::open(path);
        const Id film = file.films(file.games()[0].id)[0].id;
        CHECK(refusal_of([&] { file.rink_fits(film); }).text.find("covariance") != std::string::npos);
    }
    SUBCASE("an analyst's own table and view do no harm") {
        sample::run(path, "CREATE TABLE my_notes (text); CREATE VIEW goals AS SELECT * FROM shot_facts WHERE "
                          "outcome = 'goal'");
        CHECK(SeasonFile::open(path).shot_facts().size() == 30);
    }
    SUBCASE("a trigger in the file is refused") {
        sample::run(path, "CREATE TRIGGER sly AFTER INSERT ON shot BEGIN DELETE FROM game; END");
        CHECK(open_fault(path) == SeasonFault::damaged);
    }
    SUBCASE("a view that is not ours any more is refused") {
        sample::run(path, "DROP VIEW shot_facts; CREATE VIEW shot_facts AS SELECT 1 AS shot_id");
        CHECK(open_fault(path) == SeasonFault::damaged);
    }
}

TEST_CASE(
    "names with quotes, tags, line ends, commas and emoji come back as they went in, and through undo") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    for (const std::string name :
         {"O'Dell", "\"The Wall\"", "<b>bold</b> & co", "two\nlines\r\n", "=SUM(A1:A9), x",
          "🥅 Åse Šimić", "Robert'); DROP TABLE shot;--", "%s %n", "\xff\xfe not UTF-8", ""}) {
        CAPTURE(name);
        Goalie goalie;
        goalie.name = name;
        file.put(goalie);
        const auto find = [&] {
            for (const Goalie& other : file.goalies())
                if (other.id == goalie.id) return std::optional{other.name};
            return std::optional<std::string>{};
        };
        CHECK(find() == name);
        CHECK(file.undo());
        CHECK_FALSE(find());
        CHECK(file.redo());
        CHECK(find() == name);
    }
}

TEST_CASE("values outside what a season can hold are refused by name and leave nothing") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    const std::string before = sample::dump(path);
    const auto refused = [&](auto spoil) {
        Shot shot = sample::shot(ids, 40);
        spoil(shot);
        const auto refusal = refusal_of([&] { file.put(shot); });
        CHECK(refusal.fault == SeasonFault::refused);
        CHECK(shot.id.empty());
        return refusal.text;
    };
    CHECK(refused([](Shot& shot) { shot.period = 0; }).find("period") != std::string::npos);
    refused([](Shot& shot) { shot.clock_s = -1.0; });
    refused([](Shot& shot) { shot.clock_s = std::nan(""); });
    refused([](Shot& shot) { shot.film_s = std::numeric_limits<double>::infinity(); });
    refused([](Shot& shot) { shot.frame = -1; });
    refused([](Shot& shot) { shot.game_id = new_id(); });
    refused([](Shot& shot) { shot.note = std::string("a\0b", 3); });
    refused([](Shot& shot) { shot.note = std::string(20001, 'x'); });
    CHECK(sample::dump(path) == before);
    Season second = sample::season();
    CHECK(refusal_of([&] { file.put(second); }).fault == SeasonFault::refused);
}

} // namespace ropeline
