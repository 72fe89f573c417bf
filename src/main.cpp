// `ropeline`: answers `measure` itself, which is over before the libraries for film, window and pictures would be
// loaded; for everything else it becomes `ropeline-desk`, which lies beside it.
#include "verbs/verbs.h"

#include <array>
#include <cstdio>
#include <filesystem>
#include <string_view>
#include <unistd.h>

namespace {

int become_desk(char** argv) {
    std::error_code ignored;
    const std::filesystem::path self = std::filesystem::read_symlink("/proc/self/exe", ignored);
    const std::filesystem::path desk = self.parent_path() / "ropeline-desk";
    execv(desk.c_str(), argv);
    std::fprintf(stderr, "ropeline: cannot start %s; both programs belong in one folder, install both\n",
                 desk.c_str());
    return 1;
}

} // namespace

int main(int argc, char** argv) {
    static constexpr std::array<ropeline::AddVerb, 1> quick{ropeline::add_measure};
    if (argc > 1 && std::string_view(argv[1]) == "measure")
        return ropeline::run_command_line(argc, argv, quick);
    return become_desk(argv);
}
