// The season as one page of HTML: it opens anywhere without a network, on a phone or a laptop, and prints on two sheets.
#pragma once

#include "season/records.h"
#include "sheet/season_charts.h"
#include "tally/reviews.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

/// In   asked: which shots these are, in words ("Ilse Tamm, rush"); empty: all of the season.
/// Out  whole; every text of the season is escaped; nothing is fetched, and no script runs.
std::string season_page(const Season& season, std::span<const ShotFact> facts, const std::string& asked = {},
                        const std::optional<ReviewAgreement>& agreement = std::nullopt);

/// One of two lots of shots that are laid side by side.
struct PageSide {
    std::string name; ///< "Ilse Tamm", "the first half"
    std::size_t shots = 0;
    int games = 0;
    std::string first; ///< the sentence
    std::vector<std::string> further;
    std::span<const NamedChart> charts;
};

/// The two beside each other on a page of the same kind; on a phone one under the other, each chart named by its side.
/// In   between: what parts them, the sentence first; shared: charts of both at once.
std::string side_by_side_page(const Season& season, const std::string& asked,
                              std::span<const std::string> between, const PageSide& one,
                              const PageSide& other, std::span<const NamedChart> shared = {});

} // namespace ropeline
