// What a season's figures say, in sentences a coach can repeat: no sentence says more than its interval, and none makes a
// cause of what goes together.
#pragma once

#include "tally/reviews.h"
#include "tally/season_tally.h"

#include <string>
#include <vector>

namespace ropeline {

/// Clear shots and passes apart, goals of unblocked attempts from base or beyond and from inside, and the difference in like
/// plays with its 95 % interval; "not enough shots to say", and how many would, is an answer.
std::string first_sentence(const SeasonTally& tally);

/// What follows it: all attempts, decision beside outcome, what was given away, the model, the goalies, game by game.
std::vector<std::string> further_sentences(const SeasonTally& tally);

/// What must be known before any of it is acted on.
std::vector<std::string> cautions();

/// Where two reviews agree and where not.
std::vector<std::string> agreement_sentences(const ReviewAgreement& agreement);

} // namespace ropeline
