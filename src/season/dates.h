// Days and times as the season file writes them.
#pragma once

#include <string>
#include <string_view>

namespace ropeline {

/// A day that there is, written like 2026-11-25.
bool is_day(std::string_view text);

std::string today();   ///< where the coach is: "2026-11-25"
std::string now_utc(); ///< "2026-11-25T14:03:00Z"
/// The day that was where the coach is at that time: "2026-11-25T23:30:00Z" is the 26th in Helsinki.
/// In      as now_utc() writes it; anything else gives its first ten letters.
std::string day_of(const std::string& utc);
std::string days_after(const std::string& day, int days); ///< In: a day that there is
/// Seconds since 1970 of a time as now_utc() writes it; 0 for anything else.
double seconds_of(const std::string& utc);

} // namespace ropeline
