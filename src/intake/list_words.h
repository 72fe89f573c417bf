// Inside src/intake: the words and numbers of a scorer's list.
#pragma once

#include "intake/shot_times.h"

#include <optional>
#include <string>
#include <string_view>

namespace ropeline {

/// "12", "-3.5"; "3,5" too where the list's decimals are commas. Nothing for anything else, infinities
/// included.
std::optional<double> number_in(std::string_view text, bool comma_decimals);
/// Seconds: "754.2", "12:34", "12:34.5", "1:02:03". Never negative.
std::optional<double> time_in(std::string_view text, bool comma_decimals);
/// "1", "P2", "3rd", "period 1", "OT", "2OT": 1 to 9; overtimes go on from 4.
std::optional<int> period_in(std::string_view text);

/// What a head says its column holds, when its words are plain.
std::optional<ListColumn> column_named(std::string_view head);
bool names_some_time(std::string_view head); ///< "time", and no word of which
bool names_feet(std::string_view head);

} // namespace ropeline
