#include "desk/state/keys.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <iterator>

namespace ropeline {

namespace {

constexpr std::array usual = {
    KeyBinding{Command::frame_on, "frame_on", "Right", "one frame on; hold to run", "Film"},
    KeyBinding{Command::frame_back, "frame_back", "Left", "one frame back; hold to run back", "Film"},
    KeyBinding{Command::ten_on, "ten_on", "Shift+Right", "ten frames on", "Film"},
    KeyBinding{Command::ten_back, "ten_back", "Shift+Left", "ten frames back", "Film"},
    KeyBinding{Command::second_on, "second_on", "Ctrl+Right", "one second on", "Film"},
    KeyBinding{Command::second_back, "second_back", "Ctrl+Left", "one second back", "Film"},
    KeyBinding{Command::run_film, "run_film", "Space", "run or hold the film", "Film"},
    KeyBinding{Command::run_film_back, "run_film_back", "Shift+Space", "run it backwards", "Film"},
    KeyBinding{Command::slower, "slower", "T", "tempo: 1, 1/2, 1/4, 1/8", "Film"},
    KeyBinding{Command::loop_shot, "loop_shot", "Ctrl+Space", "run around the shot, again and again", "Film"},
    KeyBinding{Command::ribbon_closer, "ribbon_closer", "Shift+Up", "ribbon closer, down to single frames",
               "Film"},
    KeyBinding{Command::ribbon_wider, "ribbon_wider", "Shift+Down", "ribbon wider, up to the whole film",
               "Film"},
    KeyBinding{Command::mute, "mute", "M", "sound on or off", "Film"},
    KeyBinding{Command::next_shot, "next_shot", "Down", "next shot", "Film"},
    KeyBinding{Command::previous_shot, "previous_shot", "Up", "shot before", "Film"},
    KeyBinding{Command::next_film, "next_film", "Shift+O", "next film of the game", "Film"},
    KeyBinding{Command::magnify, "magnify", "Z", "look closer at the cursor", "Film"},
    KeyBinding{Command::whole_picture, "whole_picture", "Shift+Z", "whole picture", "Film"},
    KeyBinding{Command::new_shot, "new_shot", "N", "new shot at this frame", "Shot"},
    KeyBinding{Command::mark_skates, "mark_skates", "S", "mark both skates", "Shot"},
    KeyBinding{Command::mark_goalie, "mark_goalie", "G", "mark the goalie with one point", "Shot"},
    KeyBinding{Command::mark_puck, "mark_puck", "P", "mark the puck", "Shot"},
    KeyBinding{Command::mark_threat, "mark_threat", "R", "mark an opponent a pass could reach", "Shot"},
    KeyBinding{Command::take_ghosts, "take_ghosts", "E", "keep the faint marks asked for", "Shot"},
    KeyBinding{Command::one_timer, "one_timer", "Y", "he shoots at once, or catches first", "Shot"},
    KeyBinding{Command::pass_lane, "pass_lane", "B", "the pass to him is open, or blocked", "Shot"},
    KeyBinding{Command::new_moment, "new_moment", "A", "another moment; on another film, this one again",
               "Shot"},
    KeyBinding{Command::next_moment, "next_moment", ".", "next moment of this play", "Shot"},
    KeyBinding{Command::previous_moment, "previous_moment", ",", "moment before", "Shot"},
    KeyBinding{Command::moment_kind, "moment_kind", "K", "kind of this moment", "Shot"},
    KeyBinding{Command::overrule, "overrule", "V", "overrule the verdict", "Shot"},
    KeyBinding{Command::keep_tried, "keep_tried", "H", "keep the place tried on the plan", "Shot"},
    KeyBinding{Command::nudge_left, "nudge_left", "Alt+Left", "nudge the mark left, a quarter pixel", "Shot"},
    KeyBinding{Command::nudge_right, "nudge_right", "Alt+Right", "nudge it right", "Shot"},
    KeyBinding{Command::nudge_up, "nudge_up", "Alt+Up", "nudge it up", "Shot"},
    KeyBinding{Command::nudge_down, "nudge_down", "Alt+Down", "nudge it down", "Shot"},
    KeyBinding{Command::next_field, "next_field", "Tab", "next line of the card", "Shot"},
    KeyBinding{Command::previous_field, "previous_field", "Shift+Tab", "line before", "Shot"},
    KeyBinding{Command::write_note, "write_note", "W", "write a note", "Shot"},
    KeyBinding{Command::take_shot, "take_shot", "Return", "shot is done", "Shot"},
    KeyBinding{Command::remove, "remove", "Delete", "remove what is in hand", "Shot"},
    KeyBinding{Command::put_down, "put_down", "Escape", "put the mark down, close", "Shot"},
    KeyBinding{Command::find_shots, "find_shots", "Ctrl+F", "find: type words, ↑ ↓ walk what is left",
               "Shot list"},
    KeyBinding{Command::whole_list, "whole_list", "Shift+E", "the list on the whole page, and back",
               "Shot list"},
    KeyBinding{Command::sort_list, "sort_list", "D", "sort by the next column", "Shot list"},
    KeyBinding{Command::turn_list, "turn_list", "Shift+D", "sort the other way round", "Shot list"},
    KeyBinding{Command::who_in_net, "who_in_net", "I", "who was in net for this shot", "Shot list"},
    KeyBinding{Command::shot_is_here, "shot_is_here", "Shift+N", "a shot without a place is at this frame",
               "Shot list"},
    KeyBinding{Command::fit_rink, "fit_rink", "F", "fit the rink on this frame", "Rink"},
    KeyBinding{Command::other_landmark, "other_landmark", "X", "offer another landmark or line", "Rink"},
    KeyBinding{Command::lay_on_paint, "lay_on_paint", "L", "lay the fit onto the paint", "Rink"},
    KeyBinding{Command::follow_rink, "follow_rink", "C", "stop or go on following the rink", "Rink"},
    KeyBinding{Command::turn_ends, "turn_ends", "U", "the goalie defends the other net", "Rink"},
    KeyBinding{Command::set_clock, "set_clock", "Q", "what the game clock shows here", "Game clock"},
    KeyBinding{Command::turn_clock, "turn_clock", "Shift+Q", "whistle: the clock stands, or starts again",
               "Game clock"},
    KeyBinding{Command::go_to_clock, "go_to_clock", "J", "go to a game clock", "Game clock"},
    KeyBinding{Command::games, "games", "O", "games and films", "Desk"},
    KeyBinding{Command::parameters, "parameters", "F8", "level of play: the figures behind the model",
               "Desk"},
    KeyBinding{Command::undo, "undo", "Ctrl+Z", "undo", "Desk"},
    KeyBinding{Command::redo, "redo", "Ctrl+Y", "redo", "Desk"},
    KeyBinding{Command::side_log, "side_log", "F2", "Log", "Desk"},
    KeyBinding{Command::side_study, "side_study", "F3", "Study", "Desk"},
    KeyBinding{Command::side_season, "side_season", "F4", "Season", "Desk"},
    KeyBinding{Command::key_sheet, "key_sheet", "F1", "this sheet", "Desk"},
    KeyBinding{Command::guide, "guide", "Shift+F1", "the first ten minutes, step by step", "Desk"},
    KeyBinding{Command::larger_text, "larger_text", "Ctrl+=", "larger text", "Desk"},
    KeyBinding{Command::smaller_text, "smaller_text", "Ctrl+-", "smaller text", "Desk"},
    KeyBinding{Command::light_or_dark, "light_or_dark", "F9", "light or dark", "Desk"},
};

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
    constexpr std::array shown = {Shown{"Right", "→"}, Shown{"Left", "←"},       Shown{"Up", "↑"},
                                  Shown{"Down", "↓"},  Shown{"Return", "Enter"}, Shown{"Escape", "Esc"},
                                  Shown{"=", "+"},     Shown{"-", "−"}};
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
