#include "sheet/side_by_side_words.h"

#include "sheet/share_words.h"
#include "sheet/text.h"
#include "tally/coming_out.h"

#include <fmt/core.h>

namespace ropeline {
namespace {

/// "fewer for Ilse Tamm, by .05 (.01 to .09)", or what the shots cannot say.
std::string difference_words(const Difference& difference, std::string_view first) {
    const Interval& interval = difference.interval;
    if (interval.low > 0.0 || interval.high < 0.0)
        return fmt::format("{} for {}, by {}", difference.value < 0.0 ? "fewer" : "more", first,
                           sizes_words(difference));
    const bool narrow = interval.low > -worth_acting_on && interval.high < worth_acting_on;
    return fmt::format("{} ({} for {})", narrow ? "no difference worth acting on" : "not enough shots to say",
                       range_words(interval), first);
}

std::string counts_words(const ComparedShare& share, std::string_view first, std::string_view second) {
    return fmt::format("{} {}, {} {}", first, count_words(share.first), second, count_words(share.second));
}

std::string goals_sentence(const ComparedShare& goals, std::string_view first, std::string_view second) {
    if (!goals.plain) return "One side has no unblocked attempt with an outcome: nothing to compare.";
    const std::string answer = goals.within_like_plays ? "in like plays (situation, what came, distance) " +
                                                             difference_words(*goals.within_like_plays, first)
                                                       : "not enough shots to say, since no like plays "
                                                         "(situation, what came, distance) were met by both";
    return fmt::format("Goals of unblocked attempts: {}; {}.", counts_words(goals, first, second), answer);
}

std::string share_sentence(std::string_view what, const ComparedShare& share, std::string_view first,
                           std::string_view second) {
    if (!share.plain) return {};
    return fmt::format("{}: {}; {}.", what, counts_words(share, first, second),
                       difference_words(*share.plain, first));
}

} // namespace

std::vector<std::string> side_by_side_sentences(const SideBySide& compared, std::string_view first,
                                                std::string_view second) {
    const std::string one = printable(first), other = printable(second);
    std::vector<std::string> all{goals_sentence(compared.goals, one, other),
                                 share_sentence("Right depth", compared.right_depth, one, other),
                                 share_sentence("Right read", compared.read_it, one, other)};
    std::erase(all, "");
    return all;
}

} // namespace ropeline
