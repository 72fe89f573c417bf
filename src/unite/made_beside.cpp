#include "unite/made_beside.h"

#include "season/sql.h"

#include <fcntl.h>
#include <unistd.h>

#include <cstdlib>

namespace ropeline {
namespace {

class FolderBeside {
public:
    explicit FolderBeside(const std::filesystem::path& path) {
        std::string name = path.string() + ".being-made-XXXXXX";
        if (!::mkdtemp(name.data()))
            fail(SeasonFault::read_only, path,
                 "this folder cannot be written to. Choose another, or ask its owner.");
        path_ = name;
    }
    ~FolderBeside() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    FolderBeside(const FolderBeside&) = delete;
    FolderBeside& operator=(const FolderBeside&) = delete;
    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

void bring_to_the_disk(const std::filesystem::path& path) {
    const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (descriptor < 0) return;
    ::fsync(descriptor);
    ::close(descriptor);
}

} // namespace

void make_beside(const std::filesystem::path& path,
                 const std::function<void(const std::filesystem::path& beside)>& make) {
    if (std::filesystem::exists(std::filesystem::symlink_status(path)))
        fail(SeasonFault::exists, path, "there is such a file already. Choose another name.");
    const auto folder = std::filesystem::absolute(path).parent_path();
    if (!std::filesystem::is_directory(folder))
        fail(SeasonFault::not_found, path, "there is no such folder. Make it first, or choose another.");
    const FolderBeside beside{path};
    const auto made = beside.path() / path.filename();
    make(made);
    bring_to_the_disk(made);
    std::filesystem::rename(made, path);
    bring_to_the_disk(folder);
}

} // namespace ropeline
