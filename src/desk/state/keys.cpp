#include "desk/state/keys.h"

#include <algorithm>
#include <array>

namespace ropeline {

namespace {

constexpr std::array bindings = {
    KeyBinding{Command::frame_on, "Right", "one frame on; hold to run", "Film"},
    KeyBinding{Command::frame_back, "Left", "one frame back; hold to run back", "Film"},
    KeyBinding{Command::ten_on, "Shift+Right", "ten frames on", "Film"},
    KeyBinding{Command::ten_back, "Shift+Left", "ten frames back", "Film"},
    KeyBinding{Command::second_on, "Ctrl+Right", "one second on", "Film"},
    KeyBinding{Command::second_back, "Ctrl+Left", "one second back", "Film"},
    KeyBinding{Command::run_film, "Space", "run or hold the film", "Film"},
    KeyBinding{Command::run_film_back, "Shift+Space", "run it backwards", "Film"},
    KeyBinding{Command::slower, "T", "tempo: 1, 1/2, 1/4, 1/8", "Film"},
    KeyBinding{Command::mute, "M", "sound on or off", "Film"},
    KeyBinding{Command::next_shot, "Down", "next shot", "Film"},
    KeyBinding{Command::previous_shot, "Up", "shot before", "Film"},
    KeyBinding{Command::magnify, "Z", "look closer at the cursor", "Film"},
    KeyBinding{Command::whole_picture, "Shift+Z", "whole picture", "Film"},
    KeyBinding{Command::new_shot, "N", "new shot at this frame", "Shot"},
    KeyBinding{Command::mark_skates, "S", "mark both skates", "Shot"},
    KeyBinding{Command::mark_goalie, "G", "mark the goalie with one point", "Shot"},
    KeyBinding{Command::mark_puck, "P", "mark the puck", "Shot"},
    KeyBinding{Command::mark_threat, "R", "mark an opponent a pass could reach", "Shot"},
    KeyBinding{Command::one_timer, "Y", "he shoots at once, or catches first", "Shot"},
    KeyBinding{Command::pass_lane, "B", "the pass to him is open, or blocked", "Shot"},
    KeyBinding{Command::new_moment, "A", "another moment of this play", "Shot"},
    KeyBinding{Command::next_moment, ".", "next moment of this play", "Shot"},
    KeyBinding{Command::previous_moment, ",", "moment before", "Shot"},
    KeyBinding{Command::moment_kind, "K", "kind of this moment", "Shot"},
    KeyBinding{Command::overrule, "V", "overrule the verdict", "Shot"},
    KeyBinding{Command::keep_tried, "H", "keep the place tried on the plan", "Shot"},
    KeyBinding{Command::nudge_left, "Alt+Left", "nudge the mark left, a quarter pixel", "Shot"},
    KeyBinding{Command::nudge_right, "Alt+Right", "nudge it right", "Shot"},
    KeyBinding{Command::nudge_up, "Alt+Up", "nudge it up", "Shot"},
    KeyBinding{Command::nudge_down, "Alt+Down", "nudge it down", "Shot"},
    KeyBinding{Command::next_field, "Tab", "next line of the card", "Shot"},
    KeyBinding{Command::previous_field, "Shift+Tab", "line before", "Shot"},
    KeyBinding{Command::write_note, "W", "write a note", "Shot"},
    KeyBinding{Command::take_shot, "Return", "shot is done", "Shot"},
    KeyBinding{Command::remove, "Delete", "remove what is in hand", "Shot"},
    KeyBinding{Command::put_down, "Escape", "put the mark down, close", "Shot"},
    KeyBinding{Command::find_shots, "Ctrl+F", "find: type words, ↑ ↓ walk what is left", "Shot list"},
    KeyBinding{Command::whole_list, "E", "the list on the whole page, and back", "Shot list"},
    KeyBinding{Command::sort_list, "D", "sort by the next column", "Shot list"},
    KeyBinding{Command::turn_list, "Shift+D", "sort the other way round", "Shot list"},
    KeyBinding{Command::who_in_net, "I", "who was in net for this shot", "Shot list"},
    KeyBinding{Command::shot_is_here, "Shift+N", "a shot without a place is at this frame", "Shot list"},
    KeyBinding{Command::fit_rink, "F", "fit the rink on this frame", "Rink"},
    KeyBinding{Command::other_landmark, "X", "offer another landmark", "Rink"},
    KeyBinding{Command::lay_on_paint, "L", "lay the fit onto the paint", "Rink"},
    KeyBinding{Command::follow_rink, "C", "stop or go on following the rink", "Rink"},
    KeyBinding{Command::games, "O", "games and films", "Desk"},
    KeyBinding{Command::parameters, "F8", "level of play: the figures behind the model", "Desk"},
    KeyBinding{Command::undo, "Ctrl+Z", "undo", "Desk"},
    KeyBinding{Command::redo, "Ctrl+Y", "redo", "Desk"},
    KeyBinding{Command::side_log, "F2", "Log", "Desk"},
    KeyBinding{Command::side_study, "F3", "Study", "Desk"},
    KeyBinding{Command::side_season, "F4", "Season", "Desk"},
    KeyBinding{Command::key_sheet, "F1", "this sheet", "Desk"},
    KeyBinding{Command::larger_text, "Ctrl+=", "larger text", "Desk"},
    KeyBinding{Command::smaller_text, "Ctrl+-", "smaller text", "Desk"},
    KeyBinding{Command::light_or_dark, "F9", "light or dark", "Desk"},
};

} // namespace

std::span<const KeyBinding> key_bindings() {
    return bindings;
}

std::optional<Command> command_for(std::string_view chord) {
    const auto found = std::ranges::find(bindings, chord, &KeyBinding::chord);
    if (found == bindings.end()) return std::nullopt;
    return found->command;
}

std::string_view chord_of(Command command) {
    const auto found = std::ranges::find(bindings, command, &KeyBinding::command);
    return found == bindings.end() ? std::string_view{} : found->chord;
}

std::string_view shown_chord(std::string_view chord) {
    struct Shown {
        std::string_view chord, text;
    };
    constexpr std::array shown = {
        Shown{"Right", "→"},
        Shown{"Left", "←"},
        Shown{"Up", "↑"},
        Shown{"Down", "↓"},
        Shown{"Shift+Right", "Shift →"},
        Shown{"Shift+Left", "Shift ←"},
        Shown{"Ctrl+Right", "Ctrl →"},
        Shown{"Ctrl+Left", "Ctrl ←"},
        Shown{"Alt+Right", "Alt →"},
        Shown{"Alt+Left", "Alt ←"},
        Shown{"Alt+Up", "Alt ↑"},
        Shown{"Alt+Down", "Alt ↓"},
        Shown{"Return", "Enter"},
        Shown{"Escape", "Esc"},
        Shown{"Ctrl+Z", "Ctrl Z"},
        Shown{"Ctrl+Y", "Ctrl Y"},
        Shown{"Shift+Tab", "Shift Tab"},
        Shown{"Shift+Z", "Shift Z"},
        Shown{"Shift+Space", "Shift Space"},
        Shown{"Shift+N", "Shift N"},
        Shown{"Shift+D", "Shift D"},
        Shown{"Ctrl+F", "Ctrl F"},
        Shown{"Ctrl+=", "Ctrl +"},
        Shown{"Ctrl+-", "Ctrl −"},
    };
    const auto found = std::ranges::find(shown, chord, &Shown::chord);
    return found == shown.end() ? chord : found->text;
}

} // namespace ropeline
