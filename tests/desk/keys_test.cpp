#include "desk/state/key_file.h"
#include "desk/state/key_strip.h"

#include <doctest/doctest.h>

#include <algorithm>
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

namespace {

/// Whatever a test puts in force is gone after it.
struct UsualKeysAfter {
    ~UsualKeysAfter() { put_keys_in_force({}); }
};

} // namespace

TEST_CASE("a coach's file changes keys, and the texts on the desk name the changed ones") {
    const UsualKeysAfter usual;
    const KeyFile file =
        read_key_file("# mine\nnew_shot = Ctrl+N   # my own\n\n  mark_puck=Ctrl+P\nmute = #\r\n");
    REQUIRE(file.told.empty());
    REQUIRE(file.changes.size() == 3);
    CHECK(file.changes[2].chord == "#");
    CHECK(file.changes[2].line == 5);
    CHECK(put_keys_in_force(file.changes).empty());
    CHECK(command_for("Ctrl+N") == Command::new_shot);
    CHECK_FALSE(command_for("N"));
    CHECK(chord_of(Command::mark_puck) == "Ctrl+P");
    CHECK(with_keys("press [new_shot], then [take_shot] [or so]") == "press Ctrl N, then Enter [or so]");
}

TEST_CASE("two commands may change places; a key that another command has is told, and stays with it") {
    const UsualKeysAfter usual;
    CHECK(put_keys_in_force({{"new_shot", "P", 1}, {"mark_puck", "N", 2}}).empty());
    CHECK(command_for("P") == Command::new_shot);
    CHECK(command_for("N") == Command::mark_puck);

    const auto told = put_keys_in_force({{"new_shot", "F", 1}});
    REQUIRE(told.size() == 1);
    CHECK(told[0] ==
          "F is the key of \"fit_rink\" and of \"new_shot\": it stays with the first, the second keeps its "
          "usual key; give one of them another");
    CHECK(command_for("F") == Command::fit_rink);
    CHECK(command_for("N") == Command::new_shot);

    CHECK(put_keys_in_force({{"new_shot", "Ctrl+N", 1}, {"mark_puck", "Ctrl+N", 2}}).size() == 1);
    CHECK(command_for("Ctrl+N") == Command::new_shot);
    CHECK(command_for("P") == Command::mark_puck);
}

TEST_CASE("whatever a coach writes into the file of keys, every command keeps a key of its own") {
    const UsualKeysAfter usual;
    for (const auto* text : {"fly = J", "new_shot = Hyper", "new_shot = 3", "new_shot", "new_shot = n",
                             "new_shot =", "new_shot = Shift+Ctrl+J", "new_shot = F",
                             "put_down = Return\ntake_shot = Escape\nmute = Return"}) {
        CAPTURE(text);
        const KeyFile file = read_key_file(text);
        const auto told = put_keys_in_force(file.changes);
        CHECK(file.told.size() + told.size() == 1);
        std::set<std::string_view> chords;
        for (const KeyBinding& binding : key_bindings())
            CHECK(chords.insert(binding.chord).second);
    }
}

TEST_CASE("the file the desk writes for the coach holds every command and changes nothing by itself") {
    const UsualKeysAfter usual;
    const std::string text = usual_key_file();
    CHECK(read_key_file(text).changes.empty());
    CHECK(read_key_file(text).told.empty());
    std::string opened;
    bool at_start = true;
    for (std::size_t at = 0; at < text.size(); ++at) { // every # at the start of a line taken away
        if (at_start && text.compare(at, 2, "# ") == 0 && text.find(" = ", at) < text.find('\n', at)) at += 2;
        at_start = text[at] == '\n';
        opened += text[at];
    }
    const KeyFile all = read_key_file(opened);
    CHECK(all.changes.size() == key_bindings().size());
    CHECK(put_keys_in_force(all.changes).empty());
    CHECK(command_for("N") == Command::new_shot);
}

TEST_CASE("every command is valid somewhere, and one that the strip of keys shows is valid there") {
    for (const KeyBinding& binding : key_bindings())
        CHECK(holds(binding.places, Place::everywhere));
    for (const KeyStrip strip :
         {KeyStrip::film, KeyStrip::shot, KeyStrip::fit, KeyStrip::proposal, KeyStrip::whole_list,
          KeyStrip::scorer_list, KeyStrip::study, KeyStrip::study_answer, KeyStrip::study_list}) {
        for (const StripRow& row : strip_rows(strip)) {
            CAPTURE(chord_of(row.command));
            CHECK(is_valid(row.command, place_of(strip)));
        }
    }
}

TEST_CASE("on the start page only its own keys work; over a page only those of the desk") {
    CHECK(is_valid(Command::take_shot, Place::start_page));
    CHECK(is_valid(Command::key_sheet, Place::start_page));
    CHECK_FALSE(is_valid(Command::undo, Place::start_page));
    CHECK_FALSE(is_valid(Command::side_log, Place::start_page));
    CHECK(is_valid(Command::side_log, Place::page));
    CHECK_FALSE(is_valid(Command::undo, Place::page));
    CHECK(is_valid(Command::undo, Place::season));
    CHECK_FALSE(is_valid(Command::frame_on, Place::whole_list));
}

TEST_CASE("the strip shows the keys in force") {
    const UsualKeysAfter usual;
    put_keys_in_force({{"new_shot", "Ctrl+N", 1}});
    const auto keys = strip_keys(KeyStrip::film);
    const auto is_new_shot = [](const StripKey& key) { return key.label == "new shot here"; };
    const auto found = std::ranges::find_if(keys, is_new_shot);
    REQUIRE(found != keys.end());
    CHECK(found->chord == "Ctrl+N");
}

TEST_CASE(
    "while text is typed, keys that write nothing and mean the same everywhere still work, letters never") {
    const UsualKeysAfter usual;
    for (const char* chord : {"F9", "F1", "F11", "Shift+F9", "Ctrl+=", "Ctrl+O", "Escape"})
        CHECK(goes_past_typing(chord));
    for (const char* chord : {"N", "Shift+N", "F3", "Return", "Ctrl+Z", "Ctrl+Right", "Space", "Shift+F"})
        CHECK_FALSE(goes_past_typing(chord));
    put_keys_in_force({{"light_or_dark", "Ctrl+Shift+L", 1}, {"motion", "Shift+M", 2}});
    CHECK(goes_past_typing("Ctrl+Shift+L"));
    CHECK_FALSE(goes_past_typing("Shift+M"));
}
