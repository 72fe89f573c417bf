// Days and times as the season file writes them.
#pragma once

#include <string>
#include <string_view>

namespace ropeline {

/// A day that there is, written like 2026-11-25.
bool is_day(std::string_view text);

std::string today();   ///< where the coach is: "2026-11-25"
std::string now_utc(); ///< "2026-11-25T14:03:00Z"

} // namespace ropeline
