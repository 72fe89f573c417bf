// Text that has to stay in one line: file names may hold line breaks.
#pragma once

#include <string>
#include <string_view>

namespace ropeline {

/// The text with its control characters written out, a line break as \n.
inline std::string one_line(std::string_view text) {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string line;
    for (const char character : text) {
        const auto byte = static_cast<unsigned char>(character);
        if (character == '\n') {
            line += "\\n";
        } else if (byte < 0x20 || byte == 0x7f) {
            line.append("\\x").append(1, digits[byte >> 4]).append(1, digits[byte & 15]);
        } else {
            line += character;
        }
    }
    return line;
}

} // namespace ropeline
