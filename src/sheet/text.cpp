#include "sheet/text.h"

#include "season/utf8.h"

#include <fmt/core.h>

namespace ropeline {

namespace {

/// Length in bytes of the character that starts here, or 0 when it is none that XML and terminals take.
std::size_t printable_length(std::string_view text) {
    const std::size_t length = character_length(text);
    const bool not_in_xml =
        length == 3 && (text.starts_with("\xef\xbf\xbe") || text.starts_with("\xef\xbf\xbf"));
    const bool second_control = length == 2 && text[0] == '\xc2' && static_cast<std::uint8_t>(text[1]) < 0xa0;
    return not_in_xml || second_control ? 0 : length;
}

} // namespace

std::string printable(std::string_view text) {
    std::string safe;
    while (!text.empty()) {
        const char first = text.front();
        const std::size_t length = printable_length(text);
        if (first == '\n' || first == '\r' || first == '\t') {
            safe += ' ';
        } else if (length == 0 || static_cast<std::uint8_t>(first) < 0x20 || first == 0x7f) {
            safe += "\xef\xbf\xbd";
        } else {
            safe += text.substr(0, length);
        }
        text.remove_prefix(length == 0 ? 1 : length);
    }
    return safe;
}

std::string percentage_text(const std::optional<double>& share) {
    if (!share) return "-";
    const std::string text = fmt::format("{:.3f}", *share);
    return text.starts_with("0") ? text.substr(1) : text;
}

} // namespace ropeline
