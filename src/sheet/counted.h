// "1 shot", "2 shots".
#pragma once

#include <fmt/core.h>

#include <cstdint>
#include <string>
#include <string_view>

namespace ropeline {

inline std::string counted(std::int64_t count, std::string_view one) {
    return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

} // namespace ropeline
