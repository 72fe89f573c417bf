#include "season/clock_words.h"

#include "season/trimmed.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace ropeline {

namespace {

template <class Number>
std::optional<Number> number_in(std::string_view text) {
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return value;
}

} // namespace

std::optional<WrittenClock> read_clock(std::string_view text) {
    text = trimmed(text);
    WrittenClock clock;
    if (const auto gap = text.find(' '); gap != std::string_view::npos) {
        std::string_view period = text.substr(0, gap);
        if (period.front() == 'P' || period.front() == 'p') period.remove_prefix(1);
        clock.period = number_in<int>(period);
        if (!clock.period || *clock.period < 1 || *clock.period > 20) return std::nullopt;
        text = trimmed(text.substr(gap));
    }
    const auto colon = text.find(':');
    if (colon == std::string_view::npos) return std::nullopt;
    const std::string_view seconds_text = text.substr(colon + 1);
    const auto minutes = number_in<int>(text.substr(0, colon));
    const auto seconds = number_in<double>(seconds_text);
    const bool two_digits = seconds_text.size() == 2 || (seconds_text.size() > 3 && seconds_text[2] == '.');
    if (!minutes || !seconds || !two_digits || seconds_text.front() == '-' || *minutes < 0 ||
        !(*seconds >= 0.0) || !(*seconds < 60.0))
        return std::nullopt;
    clock.clock_s = 60.0 * *minutes + *seconds;
    if (clock.clock_s > 1200.0) return std::nullopt;
    return clock;
}

std::string clock_words(double clock_s) {
    const int whole = std::max(0, static_cast<int>(std::lround(clock_s)));
    return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

std::string game_time_words(std::optional<int> period, double clock_s) {
    const std::string clock = clock_words(clock_s);
    if (!period) return clock;
    if (*period <= 3) return fmt::format("P{} {}", *period, clock);
    if (*period == 4) return "OT " + clock;
    return fmt::format("OT{} {}", *period - 3, clock);
}

} // namespace ropeline
