// Inside src/unite: of which shots the figures need not be worked out again. Pure.
#pragma once

#include "unite/file_records.h"

#include <optional>
#include <unordered_map>

namespace ropeline {

enum class Whose;

/// The kept shots whose figures rest on nothing but what one of the files has just so (shot, moments, fits of their films,
/// goalie, game, the season's figures): that file's figures stand; nothing where either's do.
std::unordered_map<Id, std::optional<Whose>> settled_figures(const FileRecords& mine,
                                                             const FileRecords& theirs,
                                                             const std::unordered_map<Id, Whose>& kept);

} // namespace ropeline
