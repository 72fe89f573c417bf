#include "desk/list_part.h"

#include "desk/scorer_list.h"

namespace ropeline {

void refresh_list(ListPart& list, const LogState& log, const FrameTable* frames) {
    const bool with_film = frames != nullptr;
    if (list.revision == log.revision && list.with_film == with_film) return;
    list.revision = log.revision;
    list.with_film = with_film;
    list.listed = listed_shots(log);
    list.found = chosen_shot(log) ? std::vector<FoundPlace>{} : found_places(log, film_at(log, frames));
}

} // namespace ropeline
