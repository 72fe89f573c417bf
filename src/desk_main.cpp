#include "verbs/verbs.h"

int main(int argc, char** argv) {
    return ropeline::run_command_line(argc, argv, ropeline::all_verbs());
}
