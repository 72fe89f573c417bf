#include "desk/state/window_title.h"

#include <fmt/core.h>

namespace ropeline {

std::string game_words(const LogState& log) {
    const Game* game = chosen_game(log);
    if (!game) return {};
    return fmt::format("{}  {} – {}", game->date, team_name(log, game->home_team_id),
                       team_name(log, game->away_team_id));
}

std::string window_title(const LogState* log) {
    if (!log) return "Ropeline";
    const Game* game = chosen_game(*log);
    if (!game) return log->season.name + " - Ropeline";
    // Plain signs between: a system without a locale shows no title that it cannot convert.
    return fmt::format("{}, {} {} - {} - Ropeline", log->season.name, game->date,
                       team_name(*log, game->home_team_id), team_name(*log, game->away_team_id));
}

} // namespace ropeline
