#include "season/desk_lock.h"

#include "season/sql.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>

namespace ropeline {
namespace {

std::string holder(int descriptor) {
    std::array<char, 200> text{};
    const ssize_t got = ::pread(descriptor, text.data(), text.size() - 1, 0);
    return got > 0 ? std::string{text.data(), static_cast<std::size_t>(got)} : "another desk";
}

/// False when the one who held the file removed it between our opening and locking it.
bool still_there(int descriptor, const std::filesystem::path& path) {
    struct stat ours {
    }, named{};
    return ::fstat(descriptor, &ours) == 0 && ::stat(path.c_str(), &named) == 0 &&
           ours.st_ino == named.st_ino && ours.st_dev == named.st_dev;
}

} // namespace

DeskLock::DeskLock(const std::filesystem::path& season) : path_(season.string() + ".lock") {
    for (;;) {
        descriptor_ = ::open(path_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0644);
        if (descriptor_ < 0) {
            if (errno == ENOSPC || errno == EDQUOT)
                fail(SeasonFault::disk_full, season,
                     "the disk is full. Free some space, then open the season again.");
            fail(SeasonFault::read_only, season,
                 "the season cannot be written, because the file or its folder is read-only. Copy it to a "
                 "folder of yours and open the copy.");
        }
        if (::flock(descriptor_, LOCK_EX | LOCK_NB) != 0) {
            const std::string who = holder(descriptor_);
            ::close(descriptor_);
            fail(SeasonFault::locked, season,
                 fmt::format("the season is already open in {}. Close it there, then open it here.", who));
        }
        if (still_there(descriptor_, path_)) break;
        ::close(descriptor_);
    }
    std::array<char, 128> host{"this machine"};
    ::gethostname(host.data(), host.size() - 1);
    const std::string who = fmt::format("another desk (process {} on {})", ::getpid(), host.data());
    // The name is a courtesy: on a full disk the lock holds without it.
    if (::ftruncate(descriptor_, 0) == 0 && ::pwrite(descriptor_, who.data(), who.size(), 0) < 0) errno = 0;
}

DeskLock::~DeskLock() {
    ::unlink(path_.c_str());
    ::close(descriptor_);
}

} // namespace ropeline
