#include "sheet/side_by_side_words.h"

#include "sheet/text.h"
#include "tally/coming_out.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

/// ".05"
std::string size_words(double share) {
    const std::string text = fmt::format("{:.2f}", std::abs(share));
    return text.starts_with("0") ? text.substr(1) : text;
}

std::string of_words(Share share) {
    return fmt::format("{} of {}", share.hits, share.of);
}

/// "fewer with Ilse Tamm, by .05 (.01 to .09)", or what the shots cannot say.
std::string verdict_on(const Difference& difference, std::string_view first, std::string_view less,
                       std::string_view more) {
    const Interval& interval = difference.interval;
    if (interval.low > 0.0 || interval.high < 0.0) {
        const double one = std::abs(interval.low), other = std::abs(interval.high);
        return fmt::format("{} for {}, by {} ({} to {})", difference.value < 0.0 ? less : more, first,
                           size_words(difference.value), size_words(std::min(one, other)),
                           size_words(std::max(one, other)));
    }
    const auto end = [&](double value) {
        return fmt::format("{} {}", size_words(value), value < 0.0 ? less : more);
    };
    const bool narrow = interval.low > -worth_acting_on && interval.high < worth_acting_on;
    return fmt::format("{} ({} to {} for {})",
                       narrow ? "no difference worth acting on" : "not enough to say which is better",
                       end(interval.low), end(interval.high), first);
}

std::string goals_words(const ComparedShare& goals, std::string_view first, std::string_view second) {
    if (!goals.plain) return "One side has no unblocked attempt with an outcome: nothing to compare.";
    const std::string counts =
        fmt::format("Of unblocked attempts {} went in on {} and {} on {}: ", of_words(goals.first), first,
                    of_words(goals.second), second);
    if (!goals.within_like_plays)
        return counts + "not enough to say, since no like plays (situation, what came, distance) were met by "
                        "both.";
    return fmt::format("{}in like plays (situation, what came, distance) {}.", counts,
                       verdict_on(*goals.within_like_plays, first, "fewer", "more"));
}

std::string share_sentence(const ComparedShare& share, std::string_view what, std::string_view first,
                           std::string_view second) {
    if (!share.plain) return {};
    return fmt::format("{} {} with {} and {} with {}: {}.", what, of_words(share.first), first,
                       of_words(share.second), second, verdict_on(*share.plain, first, "fewer", "more"));
}

} // namespace

std::vector<std::string> side_by_side_sentences(const SideBySide& compared, std::string_view first,
                                                std::string_view second) {
    const std::string one = printable(first), other = printable(second);
    std::vector<std::string> all{goals_words(compared.goals, one, other),
                                 share_sentence(compared.right_depth, "Right depth in", one, other),
                                 share_sentence(compared.read_it, "Right read in", one, other)};
    std::erase(all, "");
    return all;
}

} // namespace ropeline
