// What the keys do to the shot list.
#include "desk/commands.h"

namespace ropeline {

void find_shots(App& app) {
    app.list.find = !app.log.state().shots.empty();
}

void turn_whole_list(App& app) {
    if (app.log.state().selection.fit()) return;
    app.list.whole_page = !app.list.whole_page;
    app.list.scrolled_to.reset();
}

void sort_by_next_column(App& app) {
    ask(app, SortList{column_after(app.log.state().list.by, app.log.state().asks)});
}

void sort_other_way(App& app) {
    ask(app, SortList{app.log.state().list.by});
}

void open_goalie_choices(App& app) {
    const LogState& log = app.log.state();
    const ShotEntry* entry = chosen_shot(log);
    if (!entry || log.goalies.empty())
        return tell(app, "No shot is open: pick one with [previous_shot] and [next_shot] first.", true);
    app.list.open = OpenCell{entry->shot.id, ShotColumn::goalie};
}

/// The open shot is at this frame; with none open, all those whose place the game clock tells go there.
void put_on_film(App& app) {
    const LogState& log = app.log.state();
    const ShotEntry* open = chosen_shot(log);
    if (app.list.whole_page && open) return;
    if (open && open->shot.film_id == open_film(log) && !open->shot.film_id.empty())
        return ask_to_move(app, open->shot.id, frame_at(app.stage));
    const auto frames = frames_of(app.stage);
    auto found = open ? std::vector<FoundPlace>{} : found_places(log, film_at(log, frames.get()));
    if (found.empty()) {
        ask_and_hold(app, PlaceShotHere{});
    } else {
        ask_and_hold(app, PutOnFilm{std::move(found)});
    }
}

bool leave_list(App& app) {
    const LogState& log = app.log.state();
    const Selection& in_hand = log.selection;
    const bool nothing_else = in_hand.shot_id().empty() && in_hand.hand() == Hand::empty && !app.log.tried;
    if (app.list.open) {
        app.list.open.reset();
    } else if (!log.list.filter.empty() && (app.list.typing || app.list.whole_page || nothing_else)) {
        ask(app, FilterList{});
    } else if (app.list.typing) {
        return true; // the field lets go of the keys by itself
    } else if (app.list.whole_page) {
        app.list.whole_page = false;
    } else {
        return false;
    }
    return true;
}

} // namespace ropeline
