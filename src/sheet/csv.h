// A season's numbers for other programs: comma-separated values as in RFC 4180 (CRLF, quotes doubled).
#pragma once

#include "season/records.h"
#include "tally/band_table.h"
#include "tally/reviews.h"
#include "tally/season_tally.h"

#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace ropeline {

/// One field. A text that a spreadsheet would take for a formula (it starts with = + - @ tab, return or line feed) gets
/// an apostrophe in front, as the OWASP page on CSV injection advises.
std::string csv_field(std::string_view text);

/// One row a shot, the columns of the view shot_facts (schema/README.md), units in their names. Absent is
/// empty.
std::string shots_csv(std::span<const ShotFact> facts);

/// One row a goalie and band, with "none" for shots without a depth and "total"; save percentage as a share
/// of 1.
std::string bands_csv(std::span<const GoalieTable> tables);

/// One row a goalie and verdict: how many decisions the model gave it, and how many after review.
std::string verdicts_csv(std::span<const GoalieTable> tables);

/// One row a group of every cut of the season (tally/breakdown.h): goals of unblocked attempts and of shots on goal, shares
/// with Wilson's 95 %.
std::string groups_csv(const SeasonTally& tally);

/// How far two reviews agree: a row a word with Cohen's kappa, then the depth with its limits of agreement.
std::string agreement_csv(const ReviewAgreement& agreement);

/// Writes all of these into the folder: shots.csv, shots_in_feet.csv, bands.csv, verdicts.csv, groups.csv, and agreement.csv
/// where there is a second review.
/// In      with_mark: each begins with byte_order_mark.
/// Throws  UnwritableFile
void write_csv_files(const std::filesystem::path& folder, const Season& season,
                     std::span<const ShotFact> facts, bool with_mark = false,
                     const std::optional<ReviewAgreement>& agreement = std::nullopt);

/// One row a shot with a place, in the frame of public play-by-play lists: feet from the middle of the red line, x_ft along the
/// rink, positive towards the net shot at, y_ft to the goalie's right.
std::string shots_in_feet_csv(std::span<const ShotFact> facts, const Season& season);

/// What a spreadsheet needs in front to take a file for UTF-8.
constexpr std::string_view byte_order_mark = "\xef\xbb\xbf";

} // namespace ropeline
