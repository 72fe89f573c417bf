#include "desk/state/key_file.h"

#include "desk/state/settings.h"
#include "season/trimmed.h"
#include "season/whole_file.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <fstream>
#include <sstream>

namespace ropeline {

std::filesystem::path key_file_path() {
    return settings_path().parent_path() / "keys.txt";
}

KeyFile read_key_file(std::string_view text) {
    KeyFile file;
    std::istringstream lines{std::string(text)};
    std::string line;
    for (int number = 1; std::getline(lines, line); ++number) {
        // A # after a blank begins a remark; one after "= " is the key itself.
        const auto remark = line.find(" #", line.find('=') == std::string::npos ? 0 : line.find('=') + 2);
        const std::string_view said = trimmed(std::string_view(line).substr(0, remark));
        if (said.empty() || said.starts_with('#')) continue;
        const auto equals = said.find('=');
        if (equals == std::string_view::npos) {
            file.told.push_back(fmt::format("line {}: \"{}\" is not written as command = key", number, said));
            continue;
        }
        file.changes.push_back({std::string(trimmed(said.substr(0, equals))),
                                std::string(trimmed(said.substr(equals + 1))), number});
    }
    return file;
}

std::string usual_key_file() {
    put_keys_in_force({});
    std::string text =
        "# Keys of the desk. Take the # away in front of a line and write another key; they hold from the\n"
        "# next start. Modifiers in this order: Ctrl+Alt+Shift+. The numbers choose and stay.\n";
    std::string_view group;
    for (const KeyBinding& binding : key_bindings()) {
        if (binding.group != group) text += fmt::format("\n# {}\n", binding.group);
        group = binding.group;
        text += fmt::format("# {} = {}   # {}\n", binding.name, binding.chord, binding.label);
    }
    return text;
}

std::string use_key_file(const std::filesystem::path& path) {
    std::ifstream stored(path);
    if (!stored) {
        try {
            write_whole_file(path, usual_key_file());
        } catch (const UnwritableFile&) { // the usual keys hold all the same
        }
        return {};
    }
    std::stringstream text;
    text << stored.rdbuf();
    KeyFile file = read_key_file(text.str());
    for (std::string& line : put_keys_in_force(file.changes))
        file.told.push_back(std::move(line));
    if (file.told.empty()) return {};
    return fmt::format("Keys in {}: {}.", path.string(), fmt::join(file.told, "; "));
}

} // namespace ropeline
