// Inside src/season: one writer a season file. A small file beside it (NAME.lock) is locked as long as the
// season is open for writing; the system lets go of it when the program ends, however it ends. Readers need
// no lock.
#pragma once

#include <filesystem>

namespace ropeline {

class DeskLock {
public:
    /// Throws  SeasonError: locked (names the process that holds it), read_only, disk_full; refused when something else
    ///         lies there under that name, which is left alone.
    explicit DeskLock(const std::filesystem::path& season);
    ~DeskLock();
    DeskLock(const DeskLock&) = delete;
    DeskLock& operator=(const DeskLock&) = delete;

private:
    std::filesystem::path path_;
    int descriptor_ = -1;
};

} // namespace ropeline
