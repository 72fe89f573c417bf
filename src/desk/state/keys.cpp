#include "desk/state/keys.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <iterator>

namespace ropeline {

namespace {

constexpr std::array usual = [] {
    using enum Place;
    return std::array{
#define ROPELINE_COMMAND(name, chord, label, group, places, ...)                                             \
    KeyBinding{Command::name, #name, chord, label, group, places},
#include "desk/state/command_rows.inc"
#undef ROPELINE_COMMAND
    };
}();

/// The keys of this run of the program: the usual ones, with the coach's changes.
struct InForce {
    std::vector<std::string> chords{};
    std::vector<KeyBinding> bindings{usual.begin(), usual.end()};
};

InForce& in_force() {
    static InForce keys;
    return keys;
}

constexpr std::array named_keys = {"Space", "Tab", "Return", "Escape", "Delete", "Insert",   "Right",
                                   "Left",  "Up",  "Down",   "Home",   "End",    "PageDown", "PageUp"};

/// A chord as the desk names keys: modifiers in the order Ctrl, Alt, Shift, then a key.
bool can_be_pressed(std::string_view chord) {
    for (const std::string_view modifier : {"Ctrl+", "Alt+", "Shift+"}) {
        if (chord.starts_with(modifier)) chord.remove_prefix(modifier.size());
    }
    if (std::ranges::find(named_keys, chord) != named_keys.end()) return true;
    if (chord.size() == 1) return chord[0] > ' ' && chord[0] < 127 && (chord[0] < 'a' || chord[0] > 'z');
    const bool function_key =
        chord.size() <= 3 && chord.starts_with('F') &&
        std::ranges::all_of(chord.substr(1), [](char c) { return c >= '0' && c <= '9'; });
    return function_key && chord.size() > 1;
}

bool chooses(std::string_view chord) {
    return chord.size() == 1 && chord[0] >= '1' && chord[0] <= '9';
}

} // namespace

std::span<const KeyBinding> key_bindings() {
    return in_force().bindings;
}

std::vector<std::string> put_keys_in_force(const std::vector<KeyChange>& changes) {
    InForce next;
    next.chords.reserve(changes.size()); // the bindings point into it
    std::vector<std::string> told;
    std::vector<Command> changed;
    for (const KeyChange& change : changes) {
        const auto binding = std::ranges::find(next.bindings, change.name, &KeyBinding::name);
        if (binding == next.bindings.end()) {
            told.push_back(fmt::format("line {}: there is no command \"{}\"", change.line, change.name));
        } else if (!can_be_pressed(change.chord)) {
            told.push_back(
                fmt::format("line {}: \"{}\" is not a key; write it like J, Shift+J, Ctrl+Right or F6",
                            change.line, change.chord));
        } else if (chooses(change.chord)) {
            told.push_back(fmt::format("line {}: {} chooses on the card and cannot be given away",
                                       change.line, change.chord));
        } else {
            next.chords.push_back(change.chord);
            binding->chord = next.chords.back();
            changed.push_back(binding->command);
        }
    }
    // Where two share a chord, the changed one gives way to the usual one; of two changed ones the later.
    for (bool clean = false; !clean;) {
        clean = true;
        for (auto one = next.bindings.begin(); one != next.bindings.end() && clean; ++one) {
            const auto other =
                std::find_if(std::next(one), next.bindings.end(),
                             [&](const KeyBinding& binding) { return binding.chord == one->chord; });
            if (other == next.bindings.end()) continue;
            const auto turn = [&](const KeyBinding& binding) { // usual ones first, then as the file has them
                const auto at = std::ranges::find(changed, binding.command);
                return at == changed.end() ? -1 : at - changed.begin();
            };
            const bool later = turn(*other) > turn(*one);
            KeyBinding& yields = later ? *other : *one;
            KeyBinding& stays = later ? *one : *other;
            told.push_back(
                fmt::format("{} is the key of \"{}\" and of \"{}\": it stays with the first, the second "
                            "keeps its usual key; give one of them another",
                            shown_chord(stays.chord), stays.name, yields.name));
            const auto usual_one = std::ranges::find(usual, yields.command, &KeyBinding::command);
            yields.chord = usual_one->chord;
            std::erase(changed, yields.command);
            clean = false;
        }
    }
    in_force() = std::move(next);
    return told;
}

std::optional<Command> command_for(std::string_view chord) {
    const auto bindings = key_bindings();
    const auto found = std::ranges::find(bindings, chord, &KeyBinding::chord);
    if (found == bindings.end()) return std::nullopt;
    return found->command;
}

std::string_view chord_of(Command command) {
    const auto bindings = key_bindings();
    const auto found = std::ranges::find(bindings, command, &KeyBinding::command);
    return found == bindings.end() ? std::string_view{} : found->chord;
}

std::string_view label_of(Command command) {
    return usual.at(static_cast<std::size_t>(command)).label;
}

bool is_valid(Command command, Place place) {
    return holds(usual.at(static_cast<std::size_t>(command)).places, place);
}

bool goes_past_typing(std::string_view chord) {
    const auto command = command_for(chord);
    if (!command || !is_valid(*command, Place::chooser)) return false;
    if (*command == Command::put_down) return true;
    if (chord.starts_with("Shift+")) chord.remove_prefix(6);
    return chord.starts_with("Ctrl+") || (chord.size() > 1 && chord.starts_with('F'));
}

std::string with_keys(std::string_view text) {
    std::string told;
    while (!text.empty()) {
        const auto open = text.find('[');
        const auto close = text.find(']', open == std::string_view::npos ? text.size() : open);
        if (close == std::string_view::npos) break;
        const auto bindings = key_bindings();
        const auto binding =
            std::ranges::find(bindings, text.substr(open + 1, close - open - 1), &KeyBinding::name);
        told += text.substr(0, open);
        told += binding == bindings.end() ? std::string(text.substr(open, close + 1 - open))
                                          : shown_chord(binding->chord);
        text.remove_prefix(close + 1);
    }
    return told + std::string(text);
}

std::string shown_chord(std::string_view chord) {
    struct Shown {
        std::string_view key, text;
    };
    constexpr std::array shown = {
        Shown{"Right", "→"},         Shown{"Left", "←"},       Shown{"Up", "↑"}, Shown{"Down", "↓"},
        Shown{"Return", "Enter"},    Shown{"Escape", "Esc"},   Shown{"=", "+"},  Shown{"-", "−"},
        Shown{"PageDown", "Page ↓"}, Shown{"PageUp", "Page ↑"}};
    std::string text;
    for (const std::string_view modifier : {"Ctrl", "Alt", "Shift"}) {
        if (!chord.starts_with(modifier) || chord.size() <= modifier.size() + 1) continue;
        text += modifier;
        text += ' ';
        chord.remove_prefix(modifier.size() + 1);
    }
    const auto found = std::ranges::find(shown, chord, &Shown::key);
    return text.append(found == shown.end() ? chord : found->text);
}

} // namespace ropeline
