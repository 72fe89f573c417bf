// What a person typed, without what surrounds it.
#pragma once

#include <string_view>

namespace ropeline {

/// Without spaces, tabs and line ends around it.
inline std::string_view trimmed(std::string_view text) {
    constexpr std::string_view around = " \t\r\n\v\f";
    const auto first = text.find_first_not_of(around);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(around) - first + 1);
}

} // namespace ropeline
