// `ropeline`: answers `measure` itself, which is over before the libraries for film, window and pictures would be
// loaded; for everything else it becomes one of the programs beside it: `ropeline-summary`, which needs only the season file's,
// or `ropeline-desk`.
#include "verbs/verbs.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <span>
#include <string_view>
#include <unistd.h>

namespace {

bool is_summary_without_pictures(std::span<char* const> words) {
    return words.size() > 1 && std::string_view{words[1]} == "summary" &&
           std::ranges::none_of(words, [](std::string_view word) { return word.starts_with("--charts"); });
}

int become_another(std::span<char*> words) {
    std::error_code ignored;
    const std::filesystem::path self = std::filesystem::read_symlink("/proc/self/exe", ignored);
    const std::filesystem::path desk = self.parent_path() / "ropeline-desk";
    if (is_summary_without_pictures(words))
        execv((self.parent_path() / "ropeline-summary").c_str(),
              words.data()); // missing: the desk's program can it too
    execv(desk.c_str(), words.data());
    std::fprintf(stderr, "ropeline: cannot start %s; its programs belong in one folder, install them all\n",
                 desk.c_str());
    return 1;
}

} // namespace

int main(int argc, char** argv) {
    static constexpr std::array<ropeline::AddVerb, 1> quick{ropeline::add_measure};
    if (argc > 1 && std::string_view(argv[1]) == "measure")
        return ropeline::run_command_line(argc, argv, quick);
    return become_another({argv, static_cast<std::size_t>(argc)});
}
