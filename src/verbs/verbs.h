// The command line. Each verb lives in its own file and is thin: it adds its subcommand and returns an exit status.
#pragma once

#include <functional>
#include <span>
#include <stdexcept>
#include <string>

namespace CLI {
class App;
}

namespace ropeline {

/// A call that asks for something that cannot be (exit status 2). Every other exception is a failed job (1).
struct WrongCall : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// What a verb does once the command line is read; throws on failure, one line.
using Job = std::function<void()>;

// Each adds its subcommand to the app and sets `chosen` when it is the one called.
void add_open(CLI::App& app, Job& chosen);
void add_film(CLI::App& app, Job& chosen);
void add_measure(CLI::App& app, Job& chosen);
void add_carry(CLI::App& app, Job& chosen);
void add_summary(CLI::App& app, Job& chosen);
void add_quick_summary(CLI::App& app, Job& chosen); ///< all of it but the charts
void add_reel(CLI::App& app, Job& chosen);
void add_still(CLI::App& app, Job& chosen);
void add_handout(CLI::App& app, Job& chosen);
void add_answers(CLI::App& app, Job& chosen);
void add_merge(CLI::App& app, Job& chosen);
void add_extract(CLI::App& app, Job& chosen);
void add_publish(CLI::App& app, Job& chosen);
void add_check(CLI::App& app, Job& chosen);
void add_demo(CLI::App& app, Job& chosen);

using AddVerb = void (*)(CLI::App& app, Job& chosen);
/// Reads the command line and does what it asks with these verbs; returns the exit status.
int run_command_line(int argc, char** argv, std::span<const AddVerb> verbs);
/// Every verb.
std::span<const AddVerb> all_verbs();

} // namespace ropeline
