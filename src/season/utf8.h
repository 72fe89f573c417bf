// Characters in text that may be anything.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace ropeline {

/// Length in bytes of the UTF-8 character that starts this text, which is not empty; 0 when it is none.
/// Source  RFC 3629, section 4.
inline std::size_t character_length(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(text[i]); };
    const std::uint8_t first = byte(0);
    if (first < 0x80) return 1;
    const std::size_t length = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
    if (first < 0xc2 || first > 0xf4 || text.size() < length) return 0;
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(i) & 0xc0) != 0x80) return 0;
    }
    const std::uint8_t second = byte(1);
    const bool overlong = (first == 0xe0 && second < 0xa0) || (first == 0xf0 && second < 0x90);
    const bool surrogate = first == 0xed && second > 0x9f;
    const bool beyond = first == 0xf4 && second > 0x8f;
    return overlong || surrogate || beyond ? 0 : length;
}

} // namespace ropeline
