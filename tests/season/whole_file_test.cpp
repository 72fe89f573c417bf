#include "season/whole_file.h"

#include "season/full_disk.h"
#include "season/sample.h"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

namespace ropeline {

using sample::Folder;

namespace {

std::string text_of(const std::filesystem::path& path) {
    std::ifstream file{path};
    return {std::istreambuf_iterator<char>{file}, {}};
}

} // namespace

TEST_CASE("a file is written whole or not at all") {
    const Folder folder;
    write_whole_file(folder / "new/a.csv", "first");
    write_whole_file(folder / "new/a.csv", "second");
    CHECK(text_of(folder / "new/a.csv") == "second");
    CHECK_FALSE(std::filesystem::exists(folder / "new/a.csv.new"));
    CHECK_THROWS_AS(write_whole_file(folder / "new/a.csv/b.csv", "x"), UnwritableFile);
    std::filesystem::create_directory(folder / "taken");
    CHECK_THROWS_AS(write_whole_file(folder / "taken", "x"), UnwritableFile);
    CHECK_FALSE(std::filesystem::exists(folder / "taken.new"));
    {
        const sample::FullDisk disk{2};
        CHECK_THROWS_AS(write_whole_file(folder / "full.csv", "long"), UnwritableFile);
        CHECK_THROWS_AS(write_whole_file(folder / "new/a.csv", "long"), UnwritableFile);
    }
    CHECK_FALSE(std::filesystem::exists(folder / "full.csv"));
    CHECK_FALSE(std::filesystem::exists(folder / "full.csv.new"));
    CHECK(text_of(folder / "new/a.csv") == "second");
}

TEST_CASE("what a link beside points to is not written over") {
    const Folder folder;
    write_whole_file(folder / "letter", "dear parents");
    std::filesystem::create_symlink(folder / "letter", folder / "a.csv.new");
    write_whole_file(folder / "a.csv", "a,b");
    CHECK(text_of(folder / "letter") == "dear parents");
    CHECK(text_of(folder / "a.csv") == "a,b");
    CHECK_FALSE(std::filesystem::is_symlink(folder / "a.csv"));
}

} // namespace ropeline
