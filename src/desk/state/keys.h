// What the keys do. A chord is written as its modifiers and SDL's key name: "Right", "Shift+Right", "Ctrl+Z".
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

enum class Command {
    frame_on,
    frame_back,
    ten_on,
    ten_back,
    second_on,
    second_back,
    next_shot,
    previous_shot,
    next_film,
    set_clock,
    turn_clock,
    go_to_clock,
    turn_ends,
    run_film,
    run_film_back,
    slower,
    loop_shot,
    ribbon_closer,
    ribbon_wider,
    mute,
    new_shot,
    mark_skates,
    mark_goalie,
    mark_puck,
    mark_threat,
    take_ghosts,
    one_timer,
    pass_lane,
    new_moment,
    next_moment,
    previous_moment,
    moment_kind,
    overrule,
    keep_tried,
    next_field,
    previous_field,
    write_note,
    take_shot,
    remove,
    put_down,
    fit_rink,
    other_landmark,
    lay_on_paint,
    follow_rink,
    nudge_left,
    nudge_right,
    nudge_up,
    nudge_down,
    magnify,
    whole_picture,
    find_shots,
    whole_list,
    sort_list,
    turn_list,
    who_in_net,
    shot_is_here,
    undo,
    redo,
    games,
    parameters,
    side_log,
    side_study,
    side_season,
    key_sheet,
    guide,
    larger_text,
    smaller_text,
    light_or_dark,
};

struct KeyBinding {
    Command command;
    std::string_view name; ///< in the coach's file of keys
    std::string_view chord;
    std::string_view label; ///< what it does, in a few words
    std::string_view group; ///< heading on the key sheet
};

/// The bindings in force.
std::span<const KeyBinding> key_bindings();

/// A key the coach wants for a command.
struct KeyChange {
    std::string name, chord;
    int line = 0; ///< of the file it stands in
};
/// Puts the usual keys in force, with these changes.
/// Out     one line for each change that cannot be: no such command, no such key, or a key that another command
///         has (then the other keeps it)
std::vector<std::string> put_keys_in_force(const std::vector<KeyChange>& changes);
/// The command bound to a chord, or nothing.
std::optional<Command> command_for(std::string_view chord);
/// The chord as shown on a key cap: arrows as arrows, "Return" as "Enter".
std::string_view shown_chord(std::string_view chord);
std::string_view chord_of(Command command);
/// The text with the name of each command in brackets replaced by its key: "press [new_shot]" -> "press N".
std::string with_keys(std::string_view text);

} // namespace ropeline
