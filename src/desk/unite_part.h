// Another coach's season that is made into one with the open one: its page, what both changed, the work under way.
#pragma once

#include "film/background_work.h"
#include "unite/merge.h"

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace ropeline {

struct UnitePart {
    bool open = false; ///< the page
    std::filesystem::path theirs;
    std::string into;                     ///< where the one season goes, as typed
    std::vector<MergeConflict> conflicts; ///< that the last try came upon
    std::map<Id, Keep> decided;           ///< of them
    std::unique_ptr<BackgroundWork<MergeReport>> work;
    std::filesystem::path made_at;
    std::optional<MergeReport> made; ///< once the one season is there
    std::string trouble;             ///< of the last try
};

bool all_decided(const UnitePart& part);

} // namespace ropeline
