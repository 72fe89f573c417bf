// What a season says as a whole, for the Season and Study sides: read and worked out on a thread when something changed.
#pragma once

#include "desk/state/season_numbers.h"
#include "desk/state/season_reader.h"
#include "film/background_work.h"

#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace ropeline {

enum class SeasonView { charts, goalies };

/// What is read, and what was worked out from it.
struct SeasonResult {
    ReadSeason read;
    std::shared_ptr<const SeasonNumbers> numbers;
};

/// What is typed in the fields of the filter, and how the next numbers are asked for.
struct SeasonEntry {
    std::string from, to;
};

struct SeasonPart {
    bool stale = true; ///< the shots have changed since they were read
    SharedFacts facts;
    std::vector<Answer> answers; ///< the oldest first
    std::set<Id> films_there;    ///< whose film is where it was
    Comparison comparison;
    SeasonView view = SeasonView::charts;
    SeasonEntry entry;
    GoalieOrder order;
    std::vector<std::size_t> in_order; ///< of numbers->goalies
    std::shared_ptr<const SeasonNumbers>
        numbers; ///< the last that were worked out: they stay while new ones are; null: none yet

    std::shared_ptr<SeasonReader> reader;
    std::optional<SeasonAsk> failed_on; ///< told once, not tried again until something changes
    SeasonAsk working_on;
    std::unique_ptr<BackgroundWork<SeasonResult>> work;
    std::unique_ptr<BackgroundWork<std::string>> saving; ///< to the line that tells of it
};

/// Reads the shots at once, for who cannot wait for the thread; what the thread had begun is let go of.
/// Throws  SeasonError
void refresh_season(SeasonPart& part, const SeasonFile& file);
/// What of it is worked out, 0 to 1; nothing while nothing is.
std::optional<double> share_worked_out(const SeasonPart& part);
/// Begins to work out what is asked for when that or the shots have changed; takes what is finished.
/// Out     true while it is awaited.
/// Throws  what ended the work, once
bool work_out_season(SeasonPart& part, const SeasonFile& file, const Season& season, const FactFilter& only);

} // namespace ropeline
