#include "season/beside.h"

#include "season/sql.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>

namespace ropeline {
namespace {

/// A journal begins with these bytes, and so does the end of one that names a super-journal.
/// Source  sqlite.org, "Database File Format", 3 "The Rollback Journal"; there and in SQLite's pager the record is: page
///         number of the locking page (4 bytes), name, its length (4), the sum of its bytes (4), these eight.
constexpr std::array<unsigned char, 8> journal_magic = {0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7};

bool names_super_journal(const std::filesystem::path& journal, off_t bytes) {
    std::array<unsigned char, 8> end{};
    if (bytes < static_cast<off_t>(end.size())) return false;
    const int descriptor = ::open(journal.c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
    if (descriptor < 0) return false; // SQLite cannot read it either
    const auto got = ::pread(descriptor, end.data(), end.size(), bytes - static_cast<off_t>(end.size()));
    ::close(descriptor);
    return got == static_cast<ssize_t>(end.size()) && end == journal_magic;
}

/// What is wrong with it, in words; empty when it may stay.
std::string trouble_with(const std::filesystem::path& journal) {
    struct stat found {};
    if (::lstat(journal.c_str(), &found) != 0) return {};
    if (S_ISLNK(found.st_mode)) return "is a link to another file";
    if (!S_ISREG(found.st_mode)) return "is no file";
    if (found.st_nlink > 1) return "is another file under a second name";
    if (names_super_journal(journal, found.st_size)) return "names another file to be removed";
    return {};
}

std::filesystem::path free_name(const std::filesystem::path& journal) {
    const std::string wanted = journal.string() + ".set-aside";
    std::filesystem::path name = wanted;
    for (int i = 2; std::filesystem::exists(std::filesystem::symlink_status(name)); ++i)
        name = fmt::format("{}-{}", wanted, i);
    return name;
}

} // namespace

std::filesystem::path one_name(const std::filesystem::path& path) {
    std::error_code unreachable;
    const auto name = std::filesystem::weakly_canonical(path, unreachable);
    return unreachable ? path : name;
}

std::vector<std::string> set_aside_foreign_journals(const std::filesystem::path& season) {
    std::vector<std::string> lines;
    for (const char* kind : {"-journal", "-wal", "-shm"}) {
        const std::filesystem::path journal = one_name(season).string() + kind;
        const std::string trouble = trouble_with(journal);
        if (trouble.empty()) continue;
        const auto aside = free_name(journal);
        std::error_code refused;
        std::filesystem::rename(journal, aside, refused);
        if (refused)
            fail(SeasonFault::read_only, season,
                 fmt::format("{} beside it {}, which Ropeline never makes, and it cannot be put aside. Copy "
                             "the season "
                             "alone to a folder of yours and open the copy.",
                             journal.filename().string(), trouble));
        lines.push_back(one_line(fmt::format("{} {}, which Ropeline never makes: it was not used and is now "
                                             "called {}. Ask whoever gave you this season.",
                                             journal.string(), trouble, aside.filename().string())));
    }
    return lines;
}

} // namespace ropeline
