#include "season/dates.h"

#include <fmt/chrono.h>

#include <ctime>

namespace ropeline {

std::string today() {
    return fmt::format("{:%Y-%m-%d}", fmt::localtime(std::time(nullptr)));
}

std::string now_utc() {
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(std::time(nullptr)));
}

} // namespace ropeline
