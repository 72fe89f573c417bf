// What the keys do. A chord is written as its modifiers and SDL's key name: "Right", "Shift+Right", "Ctrl+Z".
#pragma once

#include <optional>
#include <span>
#include <string_view>

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
    run_film,
    run_film_back,
    slower,
    mute,
    new_shot,
    mark_skates,
    mark_goalie,
    mark_puck,
    mark_threat,
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
    larger_text,
    smaller_text,
    light_or_dark,
};

struct KeyBinding {
    Command command;
    std::string_view chord;
    std::string_view label; ///< what it does, in a few words
    std::string_view group; ///< heading on the key sheet
};

std::span<const KeyBinding> key_bindings();
/// The command bound to a chord, or nothing.
std::optional<Command> command_for(std::string_view chord);
/// The chord as shown on a key cap: arrows as arrows, "Return" as "Enter".
std::string_view shown_chord(std::string_view chord);
std::string_view chord_of(Command command);

} // namespace ropeline
