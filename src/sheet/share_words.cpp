#include "sheet/share_words.h"

#include "sheet/text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

std::string two_digits(double share) {
    const std::string text = fmt::format("{:.2f}", std::abs(share));
    return text.starts_with("0") ? text.substr(1) : text;
}

std::string count_words(Share share) {
    return fmt::format("{} of {}", share.hits, share.of);
}

std::string share_words(Share share) {
    if (share.of == 0) return "none";
    const Interval interval = wilson(share.hits, share.of);
    return fmt::format("{}, {} ({} to {})", count_words(share),
                       percentage_text(static_cast<double>(share.hits) / share.of),
                       percentage_text(interval.low), percentage_text(interval.high));
}

std::string range_words(const Interval& interval) {
    const auto end = [](double value) {
        return fmt::format("{} {}", two_digits(value), value < 0.0 ? "fewer" : "more");
    };
    return fmt::format("{} to {}", end(interval.low), end(interval.high));
}

std::string sizes_words(const Difference& difference) {
    const auto [low, high] =
        std::minmax({std::abs(difference.interval.low), std::abs(difference.interval.high)});
    return fmt::format("{} ({} to {})", two_digits(difference.value), two_digits(low), two_digits(high));
}

std::string given_away_words(const GivenAway& given) {
    const std::string mean = fmt::format("{:.1f} %", 100.0 * given.mean);
    if (!given.mean_interval) return mean;
    return fmt::format("{} ({:.1f} to {:.1f})", mean, 100.0 * std::max(0.0, given.mean_interval->low),
                       100.0 * given.mean_interval->high);
}

} // namespace ropeline
