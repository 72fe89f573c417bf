#include "verbs/verbs.h"

#include <array>

int main(int argc, char** argv) {
    static constexpr std::array<ropeline::AddVerb, 1> quick{ropeline::add_quick_summary};
    return ropeline::run_command_line(argc, argv, quick);
}
