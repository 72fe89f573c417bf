#include "unite/merge.h"

#include "season/trimmed.h"
#include "sheet/counted.h"
#include "sheet/text.h"
#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <fstream>
#include <iostream>
#include <map>
#include <memory>
#include <unistd.h>

namespace ropeline {
namespace {

struct MergeCall {
    std::string mine, theirs, into, conflicts, decided;
};

std::optional<Keep> keep_from_word(std::string_view word) {
    if (word == "mine" || word == "m") return Keep::mine;
    if (word == "theirs" || word == "t") return Keep::theirs;
    if (word == "newer" || word == "n") return Keep::newer;
    return std::nullopt;
}

/// The list that an earlier call printed, with mine, theirs or newer in the place of the question marks.
std::map<Id, Keep> read_decisions(const std::string& path) {
    std::map<Id, Keep> decisions;
    if (path.empty()) return decisions;
    std::ifstream in(path);
    if (!in) throw WrongCall(fmt::format("{} cannot be read. Check the name.", path));
    std::string line;
    for (int number = 1; std::getline(in, line); ++number) {
        const std::string_view text = trimmed(line);
        if (text.empty() || text.front() == '?' || text.front() == '#') continue;
        const auto space = text.find(' ');
        const auto keep = keep_from_word(text.substr(0, space));
        const auto rest = space == std::string_view::npos ? std::string_view{} : trimmed(text.substr(space));
        if (!keep || rest.size() < 36)
            throw WrongCall(
                fmt::format("{}, line {}: begin it with mine, theirs, newer or ?, then the id as the list "
                            "gives it",
                            path, number));
        decisions.insert_or_assign(Id{rest.substr(0, 36)}, *keep);
    }
    return decisions;
}

std::optional<Keep> ask_person(const MergeConflict& conflict) {
    fmt::print(stderr, "\nBoth changed the {}\n", printable(conflict.what));
    for (const ConflictingField& field : conflict.fields)
        fmt::print(stderr, "  {}: mine {}, theirs {}\n", field.field, printable(field.mine),
                   printable(field.theirs));
    fmt::print(stderr, "  mine: {}\n  theirs: {}\n", printable(conflict.mine_changed),
               printable(conflict.theirs_changed));
    for (std::string line;;) {
        fmt::print(stderr, "m keeps mine, t theirs, n the newer, Enter leaves it open: ");
        if (!std::getline(std::cin, line) || trimmed(line).empty()) return std::nullopt;
        if (const auto keep = keep_from_word(trimmed(line))) return keep;
    }
}

DecideConflict decider(const MergeCall& call) {
    const auto all = keep_from_word(call.conflicts);
    const bool can_ask = isatty(STDIN_FILENO) != 0 && isatty(STDERR_FILENO) != 0 && call.decided.empty();
    return
        [=, decisions = read_decisions(call.decided)](const MergeConflict& conflict) -> std::optional<Keep> {
            if (const auto found = decisions.find(conflict.id); found != decisions.end())
                return found->second;
            if (all) return all;
            return can_ask ? ask_person(conflict) : std::nullopt;
        };
}

void tell(const MergeCall& call, const MergeReport& report) {
    for (const std::string& line : report.told)
        fmt::print("{}\n", printable(line));
    fmt::print("{}: {}; from {}: {} brought, {} changed, {} removed; {} decided", call.into,
               counted(report.shots, "shot"), call.theirs, counted(report.brought, "record"), report.changed,
               report.removed, counted(report.decided, "conflict"));
    fmt::print("{}\n", report.worked_out > 0 ? fmt::format("; the figures of {} worked out again",
                                                           counted(report.worked_out, "shot"))
                                             : std::string{});
}

void merge(const MergeCall& call) {
    const MergeReport report = merge_seasons(call.mine, call.theirs, call.into, decider(call));
    if (report.undecided.empty()) return tell(call, report);
    fmt::print("# What both changed, mine | theirs. Write mine, theirs or newer in the place of the question "
               "mark, then give\n"
               "# this list with --decided FILE; or say one of the three for all of it with --conflicts.\n");
    for (const MergeConflict& conflict : report.undecided)
        fmt::print("? {}\n", printable(line_of(conflict)));
    throw std::runtime_error(fmt::format("{} not decided, so nothing was written; the list above says how",
                                         report.undecided.size() == 1
                                             ? "1 conflict is"
                                             : fmt::format("{} conflicts are", report.undecided.size())));
}

} // namespace

void add_merge(CLI::App& app, Job& chosen) {
    auto call = std::make_shared<MergeCall>();
    CLI::App* verb = app.add_subcommand(
        "merge", "Makes one season of two coaches' seasons; neither of the two is written to");
    verb->add_option("MINE", call->mine, "A season file (*.season)")->required();
    verb->add_option("THEIRS", call->theirs, "Another one, mostly a copy that somebody else worked on")
        ->required();
    verb->add_option("-o,--output", call->into, "The season file to write; there must be none yet")
        ->type_name("SEASON")
        ->required();
    verb->add_option("--conflicts", call->conflicts, "What stays where both changed the same thing")
        ->check(CLI::IsMember({"mine", "theirs", "newer"}));
    verb->add_option("--decided", call->decided, "The list of conflicts with a decision in front of each")
        ->type_name("FILE");
    verb->callback([call, &chosen] { chosen = [call] { merge(*call); }; });
}

} // namespace ropeline
