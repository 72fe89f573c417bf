#include "season/dates.h"

#include <fmt/chrono.h>

#include <chrono>
#include <cstdio>
#include <ctime>
#include <optional>

namespace ropeline {

namespace {

std::optional<std::time_t> time_of(const std::string& utc) {
    std::tm parts{};
    if (std::sscanf(utc.c_str(), "%4d-%2d-%2dT%2d:%2d:%2dZ", &parts.tm_year, &parts.tm_mon, &parts.tm_mday,
                    &parts.tm_hour, &parts.tm_min, &parts.tm_sec) != 6)
        return std::nullopt;
    parts.tm_year -= 1900;
    parts.tm_mon -= 1;
    return timegm(&parts);
}

} // namespace

bool is_day(std::string_view text) {
    if (text.size() != 10) return false;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (i == 4 || i == 7 ? text[i] != '-' : text[i] < '0' || text[i] > '9') return false;
    int year = 0;
    unsigned month = 0, day = 0;
    std::sscanf(std::string{text}.c_str(), "%4d-%2u-%2u", &year, &month, &day);
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

std::string day_of(const std::string& utc) {
    const auto time = time_of(utc);
    return time ? fmt::format("{:%Y-%m-%d}", fmt::localtime(*time)) : utc.substr(0, 10);
}

double seconds_of(const std::string& utc) {
    return static_cast<double>(time_of(utc).value_or(0));
}

std::string days_after(const std::string& day, int days) {
    using namespace std::chrono;
    int year_number = 0;
    unsigned month_number = 0, day_number = 0;
    if (std::sscanf(day.c_str(), "%4d-%2u-%2u", &year_number, &month_number, &day_number) != 3) return {};
    const year_month_day then =
        sys_days{year{year_number} / month{month_number} / std::chrono::day{day_number}} +
        std::chrono::days{days};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(then.year()),
                       static_cast<unsigned>(then.month()), static_cast<unsigned>(then.day()));
}

} // namespace ropeline
