#include "season/check_season.h"
#include "season/sample.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <fstream>

namespace ropeline {
namespace {

using sample::Folder;

sample::Ids make(const std::filesystem::path& path) {
    SeasonFile file = SeasonFile::create(path, sample::season());
    return sample::fill(file);
}

std::string troubles(const std::filesystem::path& path) {
    std::string text;
    for (const CheckLine& line : check_season(path)) {
        CHECK(line.text.find('\n') == std::string::npos);
        if (!line.fine) text += line.text + "\n";
    }
    return text;
}

void damage(const std::filesystem::path& path) {
    std::fstream file{path, std::ios::binary | std::ios::in | std::ios::out};
    file.seekp(4096);
    file << std::string(12000, 'z');
}

} // namespace

TEST_CASE("check tells a missing film, a changed one and one that is there") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    CHECK(troubles(path).find("first.mp4 is missing") != std::string::npos);
    std::filesystem::create_directory(folder / "films");
    std::ofstream{folder / "films/first.mp4"} << "short";
    CHECK(troubles(path).find("has 5 bytes") != std::string::npos);
    sample::run(path, "UPDATE film SET bytes = 5");
    CHECK(troubles(path).empty());
}

TEST_CASE("check tells rows whose owner is gone") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    sample::run(path, "DELETE FROM film; DELETE FROM team");
    CHECK(troubles(path).find("foreign keys: 4 rows") != std::string::npos);
}

TEST_CASE("repair goes back to the backup, keeps the damaged file and leaves a sound season alone") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    const std::string good = sample::dump(path);
    CHECK(repair_season(path).find("nothing to repair") != std::string::npos);
    damage(path);
    CHECK(troubles(path).find("damaged") != std::string::npos);
    CHECK(repair_season(path).find("a.season.damaged") != std::string::npos);
    CHECK(sample::dump(path) == good);
    CHECK(SeasonFile::open(path).teams().size() == 2);
    CHECK(std::filesystem::exists(folder / "a.season.damaged"));

    damage(path);
    repair_season(path);
    CHECK(std::filesystem::exists(folder / "a.season.damaged-2"));
    std::filesystem::remove(path);
    repair_season(path);
    CHECK(sample::dump(path) == good);
}

TEST_CASE("repair takes a left-over journal away with the damaged file") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    const std::string good = sample::dump(path);
    damage(path);
    std::ofstream{folder / "a.season-journal"} << std::string(600, 'j');
    repair_season(path);
    CHECK(sample::dump(path) == good);
    CHECK_FALSE(std::filesystem::exists(folder / "a.season-journal"));
}

TEST_CASE("repair refuses without a sound backup, with a newer season and while a desk has it open") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    {
        const SeasonFile desk = SeasonFile::open(path);
        damage(path);
        CHECK(sample::refusal_of([&] { repair_season(path); }).fault == SeasonFault::locked);
    }
    std::filesystem::copy_file(path, folder / "a.season.backup",
                               std::filesystem::copy_options::overwrite_existing);
    CHECK(sample::refusal_of([&] { repair_season(path); }).fault == SeasonFault::damaged);
    std::filesystem::remove(folder / "a.season.backup");
    CHECK(sample::refusal_of([&] { repair_season(path); }).fault == SeasonFault::not_found);
    make(folder / "b.season");
    sample::run(folder / "b.season", "PRAGMA user_version = 7");
    CHECK(sample::refusal_of([&] { repair_season(folder / "b.season"); }).fault == SeasonFault::newer);
}

TEST_CASE("closing a damaged season does not write the damage over the backup") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    const std::string good = sample::dump(path);
    {
        const SeasonFile desk = SeasonFile::open(path);
        damage(path);
    }
    CHECK(sample::dump(folder / "a.season.backup") == good);
}

} // namespace ropeline
