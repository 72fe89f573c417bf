// How a goalie's answers went: this sitting, the ones before, by situation. A decision counts once, however often it was answered.
#pragma once

#include "season/records.h"

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

/// How many of how many decisions.
struct RightOf {
    int right = 0, of = 0;
    bool operator==(const RightOf&) const = default;
};
struct StudySum {
    RightOf calls, places;
    std::map<Sureness, RightOf> by_sureness; ///< calls that were said to be so sure
    int weighed = 0;                         ///< places that were asked for a share of the net
    std::optional<double> gave_away;         ///< mean over them
};

/// A person's answers, cut where more than an hour passed between two; the oldest first.
std::vector<std::vector<Answer>> sittings_of(std::span<const Answer> answers, const std::string& who);

/// Each decision by its first answer among these: what came after it had seen the play.
StudySum sum_of(std::span<const Answer> answers);
/// Each decision by its first answer in the last sitting it was in.
StudySum sum_of(std::span<const std::vector<Answer>> sittings);

struct SituationProgress {
    std::optional<Situation> situation; ///< none: not said
    std::vector<StudySum> sittings;     ///< as many as asked for, the last one last
    StudySum all;
};
/// In      the situation of each moment's play.
/// Out     a row for each situation that was answered, in the order of the enumeration, "not said" last.
std::vector<SituationProgress> progress_of(std::span<const std::vector<Answer>> sittings,
                                           const std::map<Id, std::optional<Situation>>& situations,
                                           std::size_t last_sittings);

/// "5 of 8 (31 to 86 %)", with Wilson's 95 % interval; "none yet".
std::string right_of_words(const RightOf& count);

} // namespace ropeline
