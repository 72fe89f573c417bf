// Seasons of any size, for benchmarks and for trying the desk on many shots: the demo's invented plays with the figures
// that the model gives them, dealt out over as many games and goalies as they take. Whether a shot went in is drawn
// anew for each by the danger of its play. No film: the shots are as a scorer's list leaves them.
#pragma once

#include <cstdint>
#include <filesystem>

namespace ropeline {

/// Writes a season file of exactly so many shots, 25 a game. The same seed gives the same rows; another one gives another
/// season, with other ids and the same names of teams.
/// Throws  SeasonError::exists; SQLite::Exception.
void make_season(const std::filesystem::path& path, std::int64_t shots, std::uint64_t seed = 1);

} // namespace ropeline
