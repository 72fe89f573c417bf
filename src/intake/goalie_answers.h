// A goalie's answers coming back from a handout: a small JSON file that anybody may have written anything into.
#pragma once

#include "season/season_file.h"

#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

struct AnswersError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

constexpr std::size_t most_answer_bytes = std::size_t{1} << 20;
constexpr std::size_t most_answers = 5000;

/// {"ropeline_answers": 1, "answered_by": "...", "answers": [{"id", "moment", "read", "ice_m": [x, y], "took_s", "answered_at"}]}
/// Out     as they were given, without goalie and verdict; `took_s` may be missing.
/// Throws  AnswersError, one line: too long, not JSON, nested too deep, a key, kind or value that an answer does not have.
std::vector<Answer> read_answers(std::string_view json);

struct TakenAnswers {
    std::string answered_by;
    int taken = 0;
    int known = 0;                          ///< were there already: taken in before
    std::vector<std::string> not_of_season; ///< moments that this season has not
};

/// Takes them in with what each was worth and when its decision comes back, as one change, or as a part of what is under way (a
/// follow-up, which the log's undo passes over); a second time it changes nothing, and nobody's answer that is there already
/// is ever replaced.
TakenAnswers take_answers(SeasonFile& file, std::vector<Answer> answers);

/// The file's text. Throws AnswersError: not there, not a file, too long.
std::string read_answers_file(const std::filesystem::path& path);

/// "12 answers by Ilse Tamm taken in; 3 were there already; 1 left out, about a moment that this season has not".
std::string words_of(const TakenAnswers& taken);

} // namespace ropeline
