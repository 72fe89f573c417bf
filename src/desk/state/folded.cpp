#include "desk/state/folded.h"

namespace ropeline {

namespace {

/// Of characters that UTF-8 writes in two bytes. Source: the Unicode code charts 0080 to 04FF, from memory.
unsigned small_letter(unsigned code) {
    const bool latin_1 = code >= 0xC0 && code <= 0xDE && code != 0xD7;
    const bool greek = code >= 0x391 && code <= 0x3A9 && code != 0x3A2;
    if (latin_1 || greek || (code >= 0x410 && code <= 0x42F)) return code + 0x20;
    if (code >= 0x400 && code <= 0x40F) return code + 0x50;
    const bool odd_capitals = (code >= 0x139 && code <= 0x148) || (code >= 0x179 && code <= 0x17E);
    if (odd_capitals) return code + (code & 1U);
    if ((code >= 0x100 && code <= 0x137 && code != 0x130) || (code >= 0x14A && code <= 0x177))
        return code | 1U;
    return code;
}

} // namespace

std::string folded(std::string_view text) {
    std::string small;
    small.reserve(text.size());
    for (std::size_t at = 0; at < text.size(); ++at) {
        const auto first = static_cast<unsigned char>(text[at]);
        const auto second = at + 1 < text.size() ? static_cast<unsigned char>(text[at + 1]) : 0U;
        if (first >= 'A' && first <= 'Z') {
            small += static_cast<char>(first + ('a' - 'A'));
        } else if (first >= 0xC3 && first <= 0xDF && (second & 0xC0U) == 0x80U) {
            const unsigned code = small_letter(((first & 0x1FU) << 6U) | (second & 0x3FU));
            small += static_cast<char>(0xC0U | (code >> 6U));
            small += static_cast<char>(0x80U | (code & 0x3FU));
            ++at;
        } else {
            small += text[at];
        }
    }
    return small;
}

} // namespace ropeline
