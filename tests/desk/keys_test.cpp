#include "desk/state/keys.h"

#include <doctest/doctest.h>

#include <set>

using namespace ropeline;

TEST_CASE("no two commands share a key and every command has one") {
    std::set<std::string_view> chords;
    std::set<Command> commands;
    for (const KeyBinding& binding : key_bindings()) {
        CAPTURE(binding.chord);
        CHECK(chords.insert(binding.chord).second);
        CHECK(commands.insert(binding.command).second);
        CHECK(command_for(binding.chord) == binding.command);
        CHECK_FALSE(binding.label.empty());
    }
    for (int command = 0; command <= static_cast<int>(Command::light_or_dark); ++command) {
        CAPTURE(command);
        CHECK(commands.contains(static_cast<Command>(command)));
    }
    CHECK_FALSE(command_for("Ctrl+Q").has_value());
}

TEST_CASE("number keys stay free for the choices of the shot card") {
    for (const char* digit : {"1", "2", "3", "4", "5", "6", "7", "8", "9"})
        CHECK_FALSE(command_for(digit).has_value());
}
