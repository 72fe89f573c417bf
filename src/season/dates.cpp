#include "season/dates.h"

#include <fmt/chrono.h>

#include <chrono>
#include <cstdio>
#include <ctime>

namespace ropeline {

bool is_day(std::string_view text) {
    int year = 0;
    unsigned month = 0;
    unsigned day = 0;
    char rest = 0;
    if (text.size() != 10 ||
        std::sscanf(std::string{text}.c_str(), "%4d-%2u-%2u%c", &year, &month, &day, &rest) != 3)
        return false;
    return std::chrono::year_month_day{std::chrono::year{year}, std::chrono::month{month},
                                       std::chrono::day{day}}
        .ok();
}

std::string today() {
    return fmt::format("{:%Y-%m-%d}", fmt::localtime(std::time(nullptr)));
}

std::string now_utc() {
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(std::time(nullptr)));
}

} // namespace ropeline
