#include "sheet/text.h"

#include <fmt/core.h>
#include <utf8proc.h>

namespace ropeline {

namespace {

/// Control characters of either set, and the two that Unicode never assigns and XML cannot hold.
bool can_be_shown(utf8proc_int32_t character) {
    const bool control = character < 0x20 || (character >= 0x7f && character < 0xa0);
    return !control && character != 0xfffe && character != 0xffff;
}

} // namespace

std::string printable(std::string_view text) {
    std::string safe;
    while (!text.empty()) {
        utf8proc_int32_t character = 0;
        const auto found = utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                                            static_cast<utf8proc_ssize_t>(text.size()), &character);
        const bool shown = found > 0 && can_be_shown(character);
        const auto length = shown ? static_cast<std::size_t>(found) : 1;
        if (shown) {
            safe += text.substr(0, length);
        } else {
            safe += character == '\n' || character == '\r' || character == '\t' ? " " : "\xef\xbf\xbd";
        }
        text.remove_prefix(length);
    }
    return safe;
}

std::string markup(std::string_view text) {
    std::string safe;
    for (const char c : printable(text)) {
        switch (c) {
        case '&':
            safe += "&amp;";
            break;
        case '<':
            safe += "&lt;";
            break;
        case '>':
            safe += "&gt;";
            break;
        case '"':
            safe += "&quot;";
            break;
        case '\'':
            safe += "&#39;";
            break;
        default:
            safe += c;
        }
    }
    return safe;
}

std::string percentage_text(const std::optional<double>& share) {
    if (!share) return "-";
    const std::string text = fmt::format("{:.3f}", *share);
    return text.starts_with("0") ? text.substr(1) : text;
}

} // namespace ropeline
