#include "sheet/text.h"

#include <fmt/core.h>

#include <cstdint>

namespace ropeline {
namespace {

/// Length in bytes of the character that starts here (RFC 3629, section 4), or 0 when it is not one.
std::size_t character_length(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(text[i]); };
    const std::uint8_t first = byte(0);
    if (first < 0x80) return 1;
    const std::size_t length = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
    if (first < 0xc2 || first > 0xf4 || text.size() < length) return 0;
    for (std::size_t i = 1; i < length; ++i)
        if ((byte(i) & 0xc0) != 0x80) return 0;
    const std::uint8_t second = byte(1);
    const bool overlong = (first == 0xe0 && second < 0xa0) || (first == 0xf0 && second < 0x90);
    const bool surrogate = first == 0xed && second > 0x9f;
    const bool beyond = first == 0xf4 && second > 0x8f;
    const bool not_in_xml = first == 0xef && second == 0xbf && byte(2) >= 0xbe;
    const bool second_control = first == 0xc2 && second < 0xa0;
    return overlong || surrogate || beyond || not_in_xml || second_control ? 0 : length;
}

} // namespace

std::string printable(std::string_view text) {
    std::string safe;
    while (!text.empty()) {
        const char first = text.front();
        const std::size_t length = character_length(text);
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
