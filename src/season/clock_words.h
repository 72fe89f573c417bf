// The game clock as a coach writes and reads it: "2 14:35" in, "P2 14:35" out.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace ropeline {

struct WrittenClock {
    std::optional<int> period;
    double clock_s = 0.0;
};

/// "2 14:35", "P2 14:35", "14:35", "0:07.4": period if any, minutes and seconds left in it.
/// Out     nothing when it reads otherwise; a period is 1 to 20, a clock 0:00 to 20:00.
std::optional<WrittenClock> read_clock(std::string_view text);

/// Seconds left as minutes and seconds: "14:35".
std::string clock_words(double clock_s);
/// "P2 14:35"; overtimes are "OT", "OT2"; only the clock where the period is not known.
std::string game_time_words(std::optional<int> period, double clock_s);

} // namespace ropeline
