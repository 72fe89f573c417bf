// The season as one page of HTML: it opens anywhere without a network, on a phone or a laptop, and prints on two sheets.
#pragma once

#include "season/records.h"
#include "tally/reviews.h"

#include <optional>
#include <span>
#include <string>

namespace ropeline {

/// In   asked: which shots these are, in words ("Ilse Tamm, rush"); empty: all of the season.
/// Out  whole; every text of the season is escaped; nothing is fetched, and no script runs.
std::string season_page(const Season& season, std::span<const ShotFact> facts, const std::string& asked = {},
                        const std::optional<ReviewAgreement>& agreement = std::nullopt);

} // namespace ropeline
