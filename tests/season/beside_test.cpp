// Files that somebody laid beside a season: a journal that names another file, links, locks that are none.
#include "season/check_season.h"
#include "season/sample.h"

#include <doctest/doctest.h>

#include <sys/stat.h>
#include <unistd.h>

#include <cstdint>
#include <fstream>

namespace ropeline {
namespace {

using sample::Folder;

const std::string letter = "Dear parents, the bus leaves at seven.\n";

void write(const std::filesystem::path& path, const std::string& bytes) {
    std::ofstream{path, std::ios::binary} << bytes;
}

std::string read(const std::filesystem::path& path) {
    std::ifstream file{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, {}};
}

std::string big_endian(std::uint32_t number) {
    std::string bytes;
    for (int shift = 24; shift >= 0; shift -= 8)
        bytes += static_cast<char>((number >> shift) & 0xffU);
    return bytes;
}

/// A hot journal without pages that names a super-journal.
/// Source  sqlite.org, "Database File Format", 3; the record at its end as SQLite's pager writes it.
std::string crafted_journal(const std::filesystem::path& season, const std::string& names) {
    const std::string magic = "\xd9\xd5\x05\xf9\x20\xa1\x63\xd7";
    constexpr std::uint32_t page = 4096, sector = 512, pending_byte = 0x40000000;
    const auto pages = static_cast<std::uint32_t>(std::filesystem::file_size(season) / page);
    std::string journal =
        magic + big_endian(0) + big_endian(12345) + big_endian(pages) + big_endian(sector) + big_endian(page);
    journal.resize(sector, '\0');
    std::uint32_t sum = 0;
    for (const char byte : names)
        sum += static_cast<std::uint32_t>(static_cast<signed char>(byte));
    return journal + big_endian(pending_byte / page + 1) + names +
           big_endian(static_cast<std::uint32_t>(names.size())) + big_endian(sum) + magic;
}

struct Laid {
    Laid() {
        SeasonFile file = SeasonFile::create(season, sample::season());
        sample::fill(file);
    }

    /// The crafted journal beside the season, a letter that it names.
    void lay_journal() const {
        write(victim, letter);
        write(journal, crafted_journal(season, victim.string()));
    }

    Folder folder;
    std::filesystem::path season = folder / "a.season", journal = folder / "a.season-journal",
                          victim = folder / "letter.txt";
};

bool said_in(const std::vector<std::string>& lines, std::string_view part) {
    for (const std::string& line : lines) {
        CHECK(line.find('\n') == std::string::npos);
        if (line.find(part) != std::string::npos) return true;
    }
    return false;
}

} // namespace

TEST_CASE("the crafted journal does what it is crafted for: SQLite alone removes the file it names") {
    const Laid laid;
    laid.lay_journal();
    SQLite::Database{laid.season.string(), SQLite::OPEN_READWRITE}.execAndGet("SELECT count(*) FROM team");
    CHECK_FALSE(std::filesystem::exists(laid.victim));
}

TEST_CASE("a journal that names another file is set aside before the season is opened, and said") {
    const Laid laid;
    laid.lay_journal();
    const std::string bytes = read(laid.journal);
    const auto spared = [&](const char* how) {
        CAPTURE(how);
        CHECK(read(laid.victim) == letter);
        CHECK_FALSE(std::filesystem::exists(laid.journal));
    };
    SUBCASE("open") {
        const SeasonFile file = SeasonFile::open(laid.season);
        spared("open");
        CHECK(file.teams().size() == 2);
        CHECK(said_in(file.set_aside(), "a.season-journal.set-aside"));
        CHECK(said_in(file.set_aside(), "names another file to be removed"));
    }
    SUBCASE("open_to_read") {
        const SeasonFile file = SeasonFile::open_to_read(laid.season);
        spared("open_to_read");
        CHECK(said_in(file.set_aside(), "a.season-journal.set-aside"));
    }
    SUBCASE("check") {
        std::vector<std::string> lines;
        for (const CheckLine& line : check_season(laid.season))
            if (!line.fine) lines.push_back(line.text);
        spared("check");
        CHECK(said_in(lines, "a.season-journal.set-aside"));
    }
    SUBCASE("repair of a sound season") {
        CHECK(repair_season(laid.season).find("set-aside") != std::string::npos);
        spared("repair");
    }
    SUBCASE("through a link to the season") {
        std::filesystem::create_symlink(laid.season, laid.folder / "b.season");
        check_season(laid.folder / "b.season");
        spared("through a link");
    }
    CHECK(read(laid.folder / "a.season-journal.set-aside") == bytes);

    laid.lay_journal(); // a second one does not take the place of the first
    CHECK(SeasonFile::open(laid.season).set_aside().size() == 1);
    CHECK(read(laid.victim) == letter);
    CHECK(read(laid.folder / "a.season-journal.set-aside-2") == bytes);
}

TEST_CASE("repair of a damaged season spares what a journal names, beside the season and beside its backup") {
    const Laid laid;
    laid.lay_journal();
    write(laid.folder / "a.season.backup-journal",
          crafted_journal(laid.folder / "a.season.backup", laid.victim.string()));
    write(laid.season, "no season any more");
    repair_season(laid.season);
    CHECK(read(laid.victim) == letter);
    CHECK(SeasonFile::open(laid.season).teams().size() == 2);
    CHECK(std::filesystem::exists(laid.folder / "a.season.backup-journal.set-aside"));
}

TEST_CASE("links beside a season are set aside, and what they lead to is left alone") {
    const Laid laid;
    write(laid.victim, letter);
    for (const char* kind : {"-journal", "-wal", "-shm"}) {
        CAPTURE(kind);
        const std::filesystem::path link = laid.season.string() + kind;
        std::filesystem::create_symlink(laid.victim, link);
        CHECK(said_in(SeasonFile::open(laid.season).set_aside(), "is a link"));
        CHECK_FALSE(std::filesystem::exists(link));
        std::filesystem::create_hard_link(laid.victim, link);
        CHECK(said_in(SeasonFile::open(laid.season).set_aside(), "under a second name"));
        std::filesystem::create_directory(link);
        CHECK(said_in(SeasonFile::open(laid.season).set_aside(), "is no file"));
        CHECK(read(laid.victim) == letter);
    }
    CHECK(SeasonFile::open(laid.season).set_aside().empty());
}

TEST_CASE("a lock that is a link, a letter or a pipe is refused and left alone") {
    const Laid laid;
    write(laid.victim, letter);
    const auto lock = laid.folder / "a.season.lock";
    const auto refused = [&] {
        const auto refusal = sample::refusal_of([&] { SeasonFile::open(laid.season); });
        CHECK(refusal.fault == SeasonFault::refused);
        CHECK(refusal.text.find("a.season.lock beside it is no lock that Ropeline made") !=
              std::string::npos);
        CHECK(std::filesystem::exists(std::filesystem::symlink_status(lock)));
        CHECK(read(laid.victim) == letter);
        std::filesystem::remove_all(lock);
    };
    std::filesystem::create_symlink(laid.victim, lock);
    refused();
    std::filesystem::create_symlink(laid.folder / "nowhere", lock);
    refused();
    CHECK_FALSE(std::filesystem::exists(laid.folder / "nowhere"));
    std::filesystem::create_hard_link(laid.victim, lock);
    refused();
    write(lock, letter);
    refused();
    std::filesystem::create_directory(lock);
    refused();
    REQUIRE(::mkfifo(lock.c_str(), 0600) == 0);
    refused();
    CHECK(SeasonFile::open(laid.season).teams().size() == 2);
}

TEST_CASE("a lock that a desk left behind when it was killed does not keep the next one out") {
    const Laid laid;
    for (const char* left : {"", "another desk (process 4711 on rinkside)"}) {
        write(laid.folder / "a.season.lock", left);
        CHECK(SeasonFile::open(laid.season).teams().size() == 2);
        CHECK_FALSE(std::filesystem::exists(laid.folder / "a.season.lock"));
    }
}

TEST_CASE("a season that is a pipe is refused rather than waited for") {
    const Folder folder;
    REQUIRE(::mkfifo((folder / "a.season").c_str(), 0600) == 0);
    CHECK(sample::refusal_of([&] { SeasonFile::open(folder / "a.season"); }).fault ==
          SeasonFault::not_sqlite);
}

} // namespace ropeline
