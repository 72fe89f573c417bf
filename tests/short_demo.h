// The demo's first seconds, rendered once for all test programs of a build.
#pragma once

#include <filesystem>

namespace ropeline::test {

/// A folder with end_zone.mp4, bench_side.mp4, their truth and demo.season, as `ropeline demo --short` of this build writes
/// them. Only to be read.
const std::filesystem::path& short_demo();

/// The same in a new folder that a test may write to.
void copy_short_demo(const std::filesystem::path& to);

} // namespace ropeline::test
