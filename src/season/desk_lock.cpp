#include "season/desk_lock.h"

#include "season/sql.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <string_view>

namespace ropeline {
namespace {

constexpr std::string_view first_words = "another desk (process "; ///< of every lock that names its holder

std::string holder(int descriptor) {
    std::array<char, 200> text{};
    const ssize_t got = ::pread(descriptor, text.data(), text.size() - 1, 0);
    return got > 0 ? one_line({text.data(), static_cast<std::size_t>(got)}) : "another desk";
}

/// A file with no other name, empty or with a holder's name in it. Anything else there is somebody's own.
bool is_lock(int descriptor) {
    struct stat found {};
    if (::fstat(descriptor, &found) != 0 || !S_ISREG(found.st_mode) || found.st_nlink > 1) return false;
    return found.st_size == 0 || (found.st_size < 200 && holder(descriptor).starts_with(first_words));
}

/// False when the one who held the file removed it between our opening and locking it.
bool still_there(int descriptor, const std::filesystem::path& path) {
    struct stat ours {
    }, named{};
    return ::fstat(descriptor, &ours) == 0 && ::lstat(path.c_str(), &named) == 0 &&
           ours.st_ino == named.st_ino && ours.st_dev == named.st_dev;
}

[[noreturn]] void refuse_as_no_lock(const std::filesystem::path& season, const std::filesystem::path& lock) {
    fail(SeasonFault::refused, season,
         fmt::format("{} beside it is no lock that Ropeline made, so it was left alone. Move it elsewhere, "
                     "then open the "
                     "season again.",
                     lock.filename().string()));
}

[[noreturn]] void refuse_as_unopened(const std::filesystem::path& season, const std::filesystem::path& lock) {
    struct stat found {};
    const int reason = errno;
    if (reason == ENOSPC || reason == EDQUOT)
        fail(SeasonFault::disk_full, season,
             "the disk is full. Free some space, then open the season again.");
    if (::lstat(lock.c_str(), &found) == 0 && !S_ISREG(found.st_mode)) refuse_as_no_lock(season, lock);
    fail(SeasonFault::read_only, season,
         "the season cannot be written, because the file or its folder is read-only. Copy it to a "
         "folder of yours and open the copy.");
}

} // namespace

DeskLock::DeskLock(const std::filesystem::path& season) : path_(season.string() + ".lock") {
    for (;;) {
        descriptor_ = ::open(path_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK, 0644);
        if (descriptor_ < 0) refuse_as_unopened(season, path_);
        const bool held = ::flock(descriptor_, LOCK_EX | LOCK_NB) != 0;
        const bool ours = is_lock(descriptor_);
        if (ours && !held && still_there(descriptor_, path_)) break;
        const std::string who = holder(descriptor_);
        ::close(descriptor_);
        if (ours && held)
            fail(SeasonFault::locked, season,
                 fmt::format("the season is already open in {}. Close it there, then open it here.", who));
        if (!ours) refuse_as_no_lock(season, path_);
    }
    std::array<char, 128> host{"this machine"};
    ::gethostname(host.data(), host.size() - 1);
    const std::string who = fmt::format("{}{} on {})", first_words, ::getpid(), host.data());
    // The name is a courtesy: on a full disk the lock holds without it.
    if (::ftruncate(descriptor_, 0) == 0 && ::pwrite(descriptor_, who.data(), who.size(), 0) < 0) errno = 0;
}

DeskLock::~DeskLock() {
    if (still_there(descriptor_, path_)) ::unlink(path_.c_str());
    ::close(descriptor_);
}

} // namespace ropeline
