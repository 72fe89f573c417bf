// What the keys do. A chord is written as its modifiers and SDL's key name: "Right", "Shift+Right", "Ctrl+Z".
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

enum class Command {
#define ROPELINE_COMMAND(name, ...) name,
#include "desk/state/command_rows.inc"
#undef ROPELINE_COMMAND
};

/// Where the keys go: one of these at a time.
enum class Place : unsigned {
    start_page = 1,  ///< the start page, over a season or without one
    page = 2,        ///< a page or a field that takes the keys is open over a season
    scorer_list = 4, ///< a list of shots that was dropped on the desk
    whole_list = 8,  ///< the shot list on the whole page
    log = 16,        ///< the film, the card, the rink fit
    study = 32,      ///< its list, or how a sitting went
    season = 64,
    studying = 128,                                          ///< a decision of it is open
    chooser = 256,                                           ///< of a file, over anything
    asking = 512,                                            ///< a question stands over the desk
    any_side = whole_list | log | study | studying | season, ///< and nothing over it
    with_season = any_side | scorer_list | page,
    everywhere = with_season | start_page | chooser | asking,
};
constexpr Place operator|(Place one, Place other) {
    return static_cast<Place>(static_cast<unsigned>(one) | static_cast<unsigned>(other));
}
constexpr bool holds(Place places, Place place) {
    return (static_cast<unsigned>(places) & static_cast<unsigned>(place)) != 0;
}

struct KeyBinding {
    Command command;
    std::string_view name; ///< in the coach's file of keys
    std::string_view chord;
    std::string_view label; ///< what it does, in a few words
    std::string_view group; ///< heading on the key sheet
    Place places;           ///< where it is valid
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
/// The chord as shown on a key cap: arrows as arrows, "Return" as "Enter", "Ctrl+Z" as "Ctrl Z".
std::string shown_chord(std::string_view chord);
std::string_view chord_of(Command command);
/// What it does, in a few words.
std::string_view label_of(Command command);
bool is_valid(Command command, Place place);
/// While text is typed its letters are not commands; a key that writes nothing and means the same everywhere still is.
bool goes_past_typing(std::string_view chord);
/// The text with the name of each command in brackets replaced by its key: "press [new_shot]" -> "press N".
std::string with_keys(std::string_view text);

} // namespace ropeline
