// What the keys of the shot list do.
#include "desk/app.h"

#include "desk/state/shot_list.h"

namespace ropeline {

namespace {

void open_goalie_choices(App& app) {
    const LogState& log = app.book->state();
    const ShotEntry* entry = chosen_shot(log);
    if (!entry || log.goalies.empty()) {
        app.book->tell("No shot is open: pick one with [previous_shot] and [next_shot] first.", true);
        return;
    }
    app.list.open = OpenCell{entry->shot.id, ShotColumn::goalie};
}

/// The open shot is at this frame; with none open, all those whose place the game clock tells go there.
void put_on_film(App& app) {
    const LogState& log = app.book->state();
    const auto frames = frames_of(app);
    auto found = chosen_shot(log) ? std::vector<FoundPlace>{} : found_places(log, film_at(app, frames.get()));
    if (found.empty()) {
        app.actions.push_back(PlaceShotHere{});
    } else {
        app.actions.push_back(PutOnFilm{std::move(found)});
    }
    app.player.playing = false;
}

/// The whole page shows the lines of the card but the cues, which belong to the film.
void focus_by(App& app, int steps) {
    int now = static_cast<int>(app.book->state().field);
    for (const LogAction& waiting : app.actions) { // several keys may come in one turn
        if (const auto* focus = std::get_if<Focus>(&waiting)) now = static_cast<int>(focus->field);
    }
    const int wanted = ((now + steps) % asked_fields + asked_fields) % asked_fields;
    app.actions.push_back(Focus{static_cast<CardField>(wanted)});
}

/// On the whole page: what would move the film or mark on it is kept from it.
bool run_on_whole_page(App& app, Command command) {
    auto& out = app.actions;
    switch (command) {
    case Command::next_shot:
    case Command::previous_shot:
    case Command::undo:
    case Command::redo:
        return false;
    case Command::next_field:
        focus_by(app, 1);
        return true;
    case Command::previous_field:
        focus_by(app, -1);
        return true;
    case Command::take_shot:
        app.list.whole_page = false;
        if (const auto shot = chosen_index(app.book->state())) out.push_back(PickShot{*shot});
        return true;
    case Command::remove:
        out.push_back(RemoveShot{.whole = true});
        return true;
    default:
        return true;
    }
}

} // namespace

bool run_list_command(App& app, Command command) {
    switch (command) {
    case Command::find_shots:
        app.list.find = !app.book->state().shots.empty();
        return true;
    case Command::whole_list:
        if (app.book->state().selection.fit()) return true;
        app.list.whole_page = !app.list.whole_page;
        app.list.shown.reset();
        return true;
    case Command::sort_list:
        app.actions.push_back(SortList{column_after(app.book->state().list.by)});
        return true;
    case Command::turn_list:
        app.actions.push_back(SortList{app.book->state().list.by});
        return true;
    case Command::shot_is_here:
        if (!app.list.whole_page || !chosen_shot(app.book->state())) put_on_film(app);
        return true;
    case Command::who_in_net:
        open_goalie_choices(app);
        return true;
    default:
        return app.list.whole_page && run_on_whole_page(app, command);
    }
}

bool leave_list(App& app) {
    const LogState& log = app.book->state();
    const bool nothing_else =
        !chosen_shot(log) && !log.selection.fit() && log.selection.hand() == Hand::empty && !app.tried;
    if (app.list.open) {
        app.list.open.reset();
    } else if (!log.list.filter.empty() && (app.list.typing || app.list.whole_page || nothing_else)) {
        app.actions.push_back(FilterList{});
    } else if (app.list.typing) {
        return true; // the field lets go of the keys by itself
    } else if (app.list.whole_page) {
        app.list.whole_page = false;
    } else {
        return false;
    }
    return true;
}

void choose_in_open_cell(App& app, int number) {
    const LogState& log = app.book->state();
    const ShotColumn column = app.list.open->column;
    const auto field = field_of(column);
    if (field) {
        app.actions.push_back(ChooseIn{*field, number});
    } else if (number <= static_cast<int>(log.goalies.size())) {
        app.actions.push_back(PickGoalie{log.goalies[static_cast<std::size_t>(number - 1)].id});
    } else {
        return;
    }
    app.list.open.reset();
}

} // namespace ropeline
