// What each LogAction does. One handler an action; std::visit finds one that is missing at compile time.
#include "desk/state/log_book.h"

#include "rink/landmarks.h"
#include "season/derive.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace ropeline {

void toggle_choice(Shot& shot, CardField field, int number);

namespace {

Mark& mark_of(Moment& moment, MarkKind kind) {
    const auto found = std::ranges::find(moment.marks, kind, &Mark::kind);
    if (found != moment.marks.end()) return *found;
    moment.marks.push_back({.id = {}, .kind = kind, .at = {}, .ice = {}, .sigma = {}});
    return moment.marks.back();
}

void drop_mark(Moment& moment, MarkKind kind) {
    std::erase_if(moment.marks, [&](const Mark& mark) { return mark.kind == kind; });
}

bool in_picture(ImagePoint at, ImageSize size) {
    return at.x_px >= 0.0 && at.y_px >= 0.0 && at.x_px <= size.width_px && at.y_px <= size.height_px;
}

std::optional<MarkKind> placed_by(Hand hand) {
    switch (hand) {
    case Hand::first_skate:
        return MarkKind::skate_left;
    case Hand::second_skate:
        return MarkKind::skate_right;
    case Hand::goalie:
        return MarkKind::goalie;
    case Hand::puck:
        return MarkKind::puck;
    case Hand::empty:
    case Hand::landmark:
        break;
    }
    return std::nullopt;
}

/// Skates may be clicked in either order: the goalie faces the puck, so the left skate is the one on the left
/// of the line from the goalie to the puck as the goalie sees it. True when they were swapped.
bool order_skates(Moment& moment) {
    const Mark* left = find_mark(moment, MarkKind::skate_left);
    const Mark* right = find_mark(moment, MarkKind::skate_right);
    const Mark* puck = find_mark(moment, MarkKind::puck);
    if (!left || !right || !puck || !left->ice || !right->ice || !puck->ice) return false;
    const IcePoint middle = (*left->ice + *right->ice) * 0.5;
    if (cross(*puck->ice - middle, *left->ice - middle) >= 0.0) return false;
    for (Mark& mark : moment.marks) {
        if (mark.kind == MarkKind::skate_left) {
            mark.kind = MarkKind::skate_right;
        } else if (mark.kind == MarkKind::skate_right) {
            mark.kind = MarkKind::skate_left;
        }
    }
    return true;
}

} // namespace

void LogBook::rederive(Moment& moment) const {
    const FitHere here = fit_here(state_, moment.frame);
    const RuleBookId rules = here.key ? here.key->rules : state_.games[*state_.game].rules;
    if (!here.fit) {
        // Positions that came from a fit that is gone or lost would be stale; those that came without pixels
        // stay.
        for (Mark& mark : moment.marks) {
            if (!mark.at) continue;
            mark.ice.reset();
            mark.sigma.reset();
        }
    }
    derive(moment, here.fit, rule_book(rules), state_.season.parameters);
}

/// Names the fit the moment rests on. A carried one gets a row of its own, so that the moment can be worked
/// out again from the file alone.
void LogBook::name_fit(Moment& moment) {
    const FitHere here = fit_here(state_, moment.frame);
    moment.rink_fit_id = here.key ? here.key->id : Id{};
    if (here.source == FitHere::Source::lost) moment.rink_fit_id.clear();
    if (here.source != FitHere::Source::carried) return;
    StoredFit row;
    for (const StoredFit& known : state_.fits) {
        if (known.carried_from == here.key->id && known.frame == moment.frame) row = known;
    }
    row.film_id = here.key->film_id;
    row.carried_from = here.key->id;
    row.frame = moment.frame;
    row.pts_ticks = moment.pts_ticks;
    row.rules = here.key->rules;
    row.fit = *here.fit;
    file_.put(row);
    moment.rink_fit_id = row.id;
}

void LogBook::keep_carry(const StoredCarry& carry) {
    file_.put(carry);
    std::erase_if(state_.carries,
                  [&](const StoredCarry& known) { return known.rink_fit_id == carry.rink_fit_id; });
    state_.carries.push_back(carry);
    const bool marked = std::ranges::any_of(state_.shots, [&](const ShotEntry& entry) {
        return std::ranges::any_of(entry.moments, [&](const Moment& moment) {
            return moment.film_id == state_.films[*state_.film].id && !moment.marks.empty();
        });
    });
    if (!marked) return;
    file_.settle([&] { rederive_film(); });
    reload_film();
}

void LogBook::keep_moment(const std::string& name) {
    ShotEntry* entry = chosen();
    Moment* moment = entry ? main_moment(*entry) : nullptr;
    if (!moment) return;
    rederive(*moment);
    if (order_skates(*moment)) rederive(*moment);
    file_.change(fmt::format("{}, {}", name, shot_name()), [&] {
        name_fit(*moment);
        file_.put(*moment);
        file_.put(entry->shot);
    });
    state_.fits = file_.rink_fits(moment->film_id);
}

void LogBook::place(ImagePoint click, const FrameAt& at) {
    const auto kind = placed_by(state_.hand);
    ShotEntry* entry = chosen();
    Moment* moment = entry ? main_moment(*entry) : nullptr;
    if (!kind || !moment) return;
    if (moment->frame != at.frame && !moment->marks.empty()) {
        state_.jump = moment->frame;
        tell(fmt::format("The marks of {} belong to frame {}; the film is back there.", shot_name(),
                         moment->frame),
             true);
        return;
    }
    if (!in_picture(click, at.image)) {
        tell("That is outside the picture: click on the ice where the skate or the puck touches it.", true);
        return;
    }
    if (const FitHere here = fit_here(state_, at.frame); here.fit && !ice_at(*here.fit, click)) {
        tell("That point lies above the horizon of the fitted rink, not on the ice: click lower.", true);
        return;
    }
    moment->frame = entry->shot.frame = at.frame;
    moment->pts_ticks = entry->shot.pts_ticks = at.pts_ticks;
    entry->shot.film_s = at.film_s;
    if (*kind == MarkKind::goalie) {
        drop_mark(*moment, MarkKind::skate_left);
        drop_mark(*moment, MarkKind::skate_right);
    } else if (*kind != MarkKind::puck) {
        drop_mark(*moment, MarkKind::goalie);
    }
    mark_of(*moment, *kind).at = click;
    keep_moment(fmt::format("{} mark", label_of(*kind)));
    state_.held = kind;
    switch (state_.hand) {
    case Hand::first_skate:
        state_.hand = Hand::second_skate;
        break;
    case Hand::second_skate:
    case Hand::goalie:
        state_.hand = find_mark(*moment, MarkKind::puck) ? Hand::empty : Hand::puck;
        break;
    case Hand::puck:
    case Hand::empty:
    case Hand::landmark:
        state_.hand = Hand::empty;
        break;
    }
    switch (fit_here(state_, at.frame).source) {
    case FitHere::Source::none:
        tell("Marked. There is no rink fit on this film yet, so no depth: press F to fit the rink.");
        break;
    case FitHere::Source::lost:
        tell("Marked. The rink was lost on the way to this frame, so no depth: press F to fit it here.");
        break;
    case FitHere::Source::clicked:
    case FitHere::Source::carried:
    case FitHere::Source::assumed:
        state_.notice = {};
        break;
    }
}

void LogBook::choose_number(CardField field, int number) {
    ShotEntry* entry = chosen();
    if (!entry) {
        tell("No shot is open: press N to log one at this frame, or Up and Down to pick one.", true);
        return;
    }
    if (number < 1 || number > static_cast<int>(choices_of(field).size())) return;
    toggle_choice(entry->shot, field, number);
    file_.change(fmt::format("{}, {}", label_of(field), shot_name()), [&] { file_.put(entry->shot); });
    state_.field = field;
    if (chosen_in(entry->shot, field) != 0 && field != CardField::outcome) {
        state_.field = static_cast<CardField>(static_cast<int>(field) + 1);
    }
    state_.notice = {};
}

void LogBook::rederive_film() {
    const Id film_id = state_.films[*state_.film].id;
    for (ShotEntry& entry : state_.shots) {
        for (Moment& moment : entry.moments) {
            if (moment.film_id != film_id || moment.marks.empty()) continue;
            rederive(moment);
            name_fit(moment);
            file_.put(moment);
        }
    }
}

void LogBook::keep_fit() {
    FitDraft& draft = *state_.fit;
    if (!draft.fit) {
        tell("This fit cannot be kept yet. " + draft.trouble, true);
        return;
    }
    StoredFit stored;
    stored.id = draft.stored_id;
    stored.film_id = state_.films[*state_.film].id;
    stored.frame = draft.frame;
    stored.pts_ticks = draft.pts_ticks;
    stored.rules = draft.rules;
    stored.landmarks = draft.clicks;
    stored.fit = *draft.fit;
    file_.change(fmt::format("rink fit, frame {}", stored.frame), [&] {
        file_.put(stored);
        if (!draft.stored_id.empty()) file_.forget_carry(stored.id);
        reload_film();
        rederive_film();
    });
    reload_shots();
    const auto quality = quality_of(stored.fit, stored.landmarks.size());
    tell(fmt::format("Rink fitted on frame {}; {}. It is followed from here through the film.", stored.frame,
                     quality.words));
    state_.fit.reset();
    state_.hand = Hand::empty;
}

struct LogHandler {
    LogBook& book;
    const FrameAt& at;
    LogState& state;

    void operator()(const NewShot&) {
        if (!state.game || !state.film) {
            book.tell("Open a film first: drop one on the desk, or press O.", true);
            return;
        }
        if (state.goalie_id.empty()) {
            book.tell("Say who is in net first: press O and add a goalie.", true);
            return;
        }
        const Id film_id = state.films[*state.film].id;
        for (std::size_t index = 0; index < state.shots.size(); ++index) {
            const Shot& shot = state.shots[index].shot;
            if (shot.film_id == film_id && shot.frame == at.frame) {
                state.shot = index;
                book.tell(fmt::format("Shot {} is already at this frame.", index + 1));
                return;
            }
        }
        Shot shot;
        shot.game_id = state.games[*state.game].id;
        shot.goalie_id = state.goalie_id;
        shot.film_id = film_id;
        shot.frame = at.frame;
        shot.pts_ticks = at.pts_ticks;
        shot.film_s = at.film_s;
        if (!state.shots.empty()) shot.period = state.shots.back().shot.period;
        book.file_.change("new shot", [&] {
            book.file_.put(shot);
            Moment moment;
            moment.shot_id = shot.id;
            moment.film_id = film_id;
            moment.frame = at.frame;
            moment.pts_ticks = at.pts_ticks;
            book.file_.put(moment);
        });
        book.reload_shots();
        for (std::size_t index = 0; index < state.shots.size(); ++index) {
            if (state.shots[index].shot.id == shot.id) state.shot = index;
        }
        state.hand = Hand::first_skate;
        state.field = CardField::read;
        state.held.reset();
        state.notice = {};
    }
    void operator()(const Arm& arm) {
        const ShotEntry* entry = chosen_shot(state);
        if (!entry) {
            book.tell("No shot is open: press N to log one at this frame.", true);
            return;
        }
        const Moment* moment = main_moment(*entry);
        if (moment && !moment->marks.empty() && moment->frame != at.frame) state.jump = moment->frame;
        state.hand = arm.hand;
    }
    void operator()(const FilmClick& click) {
        if (state.hand == Hand::landmark && state.fit) {
            if (state.fit->offered.empty()) {
                book.tell("Pick a landmark on the plan first, then click where it is in the picture.", true);
            } else if (!in_picture(click.at, at.image)) {
                book.tell("That is outside the picture.", true);
            } else if (state.fit->frame != at.frame) {
                state.jump = state.fit->frame;
                book.tell(fmt::format("This fit is for frame {}; the film is back there.", state.fit->frame),
                          true);
            } else {
                state.fit = with_click(*state.fit, click.at);
                state.notice = {};
            }
            return;
        }
        book.place(click.at, at);
    }
    void operator()(const DragMark& drag) {
        ShotEntry* entry = book.chosen();
        Moment* moment = entry ? main_moment(*entry) : nullptr;
        if (!moment || !find_mark(*moment, drag.mark)) return;
        mark_of(*moment, drag.mark).at = drag.at;
        state.held = drag.mark;
        if (drag.done) {
            book.keep_moment(fmt::format("{} moved", label_of(drag.mark)));
        } else {
            book.rederive(*moment);
        }
    }
    void operator()(const HoldMark& hold) { state.held = hold.mark; }
    void operator()(const Nudge& nudge) {
        const ShotEntry* entry = chosen_shot(state);
        const Moment* moment = entry ? main_moment(*entry) : nullptr;
        const Mark* mark = moment && state.held ? find_mark(*moment, *state.held) : nullptr;
        if (!mark || !mark->at) {
            book.tell("No mark is held: click one of this shot's marks, then nudge it.", true);
            return;
        }
        const ImagePoint to{mark->at->x_px + nudge.dx_px, mark->at->y_px + nudge.dy_px};
        if (in_picture(to, at.image)) (*this)(DragMark{*state.held, to, true});
    }
    void operator()(const Choose& choose) { book.choose_number(state.field, choose.number); }
    void operator()(const ChooseIn& choose) { book.choose_number(choose.field, choose.number); }
    void operator()(const Focus& focus) { state.field = focus.field; }
    void operator()(const FocusBy& by) {
        const int now = static_cast<int>(state.field);
        state.field = static_cast<CardField>(((now + by.steps) % card_fields + card_fields) % card_fields);
    }
    void operator()(const WriteNote& note) {
        ShotEntry* entry = book.chosen();
        if (!entry || entry->shot.note == note.text) return;
        entry->shot.note = note.text;
        book.file_.change("note, " + book.shot_name(), [&] { book.file_.put(entry->shot); });
    }
    void operator()(const PutClock& clock) {
        ShotEntry* entry = book.chosen();
        if (!entry) return;
        entry->shot.period = clock.period;
        entry->shot.clock_s = clock.clock_s;
        book.file_.change("game clock, " + book.shot_name(), [&] { book.file_.put(entry->shot); });
    }
    void operator()(const PickGoalie& pick) {
        state.goalie_id = pick.id;
        ShotEntry* entry = book.chosen();
        if (!entry || entry->shot.goalie_id == pick.id) return;
        entry->shot.goalie_id = pick.id;
        book.file_.change("goalie, " + book.shot_name(), [&] { book.file_.put(entry->shot); });
    }
    void operator()(const PutInNet& put) { state.goalie_id = put.id; }
    void operator()(const PickShot& pick) {
        if (pick.index >= state.shots.size()) return;
        state.shot = pick.index;
        state.hand = Hand::empty;
        state.held.reset();
        state.field = CardField::read;
        state.notice = {};
        const ShotEntry& entry = state.shots[pick.index];
        if (state.film && entry.shot.film_id == state.films[*state.film].id) {
            const Moment* moment = main_moment(entry);
            state.jump = moment ? moment->frame : entry.shot.frame;
        }
    }
    void operator()(const PickShotBy& by) {
        if (state.shots.empty()) {
            book.tell("No shots in this game yet: press N to log one at this frame.");
            return;
        }
        if (state.shot) {
            const auto last = static_cast<std::ptrdiff_t>(state.shots.size()) - 1;
            const auto wanted =
                std::clamp<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(*state.shot) + by.steps, 0, last);
            return (*this)(PickShot{static_cast<std::size_t>(wanted)});
        }
        // None is open: the nearest one in that direction from the frame shown.
        std::optional<std::size_t> nearest;
        for (std::size_t index = 0; index < state.shots.size(); ++index) {
            const std::int64_t frame = state.shots[index].shot.frame;
            if (by.steps > 0 && frame >= at.frame && !nearest) nearest = index;
            if (by.steps < 0 && frame <= at.frame) nearest = index;
        }
        (*this)(PickShot{nearest.value_or(by.steps > 0 ? state.shots.size() - 1 : 0)});
    }
    void operator()(const TakeShot&) {
        if (state.fit) return book.keep_fit();
        const ShotEntry* entry = chosen_shot(state);
        if (!entry) {
            book.tell("No shot is open: press N to log one at this frame.");
            return;
        }
        const auto open = open_fields(*entry);
        const auto number = *state.shot + 1;
        if (open.empty()) {
            book.tell(fmt::format("Shot {} is kept.", number));
        } else {
            book.tell(fmt::format("Shot {} is kept. Still open: {}.", number, fmt::join(open, ", ")));
        }
        state.shot.reset();
        state.hand = Hand::empty;
        state.held.reset();
    }
    void operator()(const RemoveShot&) {
        const ShotEntry* entry = chosen_shot(state);
        if (!entry) return;
        const std::string name = book.shot_name();
        const Id id = entry->shot.id;
        book.file_.change("remove " + name, [&] { book.file_.remove_shot(id); });
        state.shot.reset();
        state.hand = Hand::empty;
        book.reload_shots();
        book.tell(fmt::format("Removed {}. Ctrl Z brings it back.", name));
    }
    void operator()(const PutDown&) {
        if (state.fit) {
            state.fit.reset();
            book.tell("The rink fit was left as it was.");
        } else if (state.hand == Hand::empty && !state.held) {
            state.shot.reset();
        }
        state.hand = Hand::empty;
        state.held.reset();
    }
    void operator()(const Undo&) {
        turn_back(book.file_.undo_name(), &SeasonFile::undo, "Undone: ", "Nothing to undo.");
    }
    void operator()(const Redo&) {
        turn_back(book.file_.redo_name(), &SeasonFile::redo, "Done again: ", "Nothing to redo.");
    }
    void turn_back(const std::optional<std::string>& name, bool (SeasonFile::*turn)(), const char* did,
                   const char* none) {
        if (!name || !(book.file_.*turn)()) {
            book.tell(none);
            return;
        }
        state.hand = Hand::empty;
        state.held.reset();
        book.reload();
        book.tell(did + *name + ".");
    }
    void operator()(const BeginFit&) {
        if (!state.film) {
            book.tell("Open a film first: drop one on the desk, or press O.", true);
            return;
        }
        if (state.fit) return;
        FitDraft draft;
        draft.frame = at.frame;
        draft.pts_ticks = at.pts_ticks;
        draft.image = at.image;
        draft.rules = state.games[*state.game].rules;
        for (const StoredFit& fit : state.fits) {
            if (fit.frame != at.frame || !fit.carried_from.empty()) continue;
            draft.stored_id = fit.id;
            draft.clicks = fit.landmarks;
        }
        state.fit = with_other_offer(refitted(std::move(draft)));
        state.hand = Hand::landmark;
        state.held.reset();
        state.notice = {};
    }
    void operator()(const OfferLandmark& offer) {
        if (state.fit) state.fit = with_offer(*state.fit, offer.name);
    }
    void operator()(const OfferOther&) {
        if (state.fit) state.fit = with_other_offer(*state.fit);
    }
    void operator()(const DragClick& drag) {
        if (state.fit && in_picture(drag.at, at.image))
            state.fit = with_moved_click(*state.fit, drag.index, drag.at);
    }
    void operator()(const RemoveClick& remove) {
        if (state.fit) state.fit = without_click(*state.fit, remove.index);
    }
    void operator()(const ShowFit& show) {
        if (state.fit) state.fit = show.draft;
    }
    void operator()(const KeepFit&) {
        if (state.fit) book.keep_fit();
    }
};

void LogBook::apply(const LogAction& action, const FrameAt& at) {
    try {
        std::visit(LogHandler{*this, at, state_}, action);
    } catch (const SeasonError& error) {
        reload();
        tell(error.what(), true);
    }
}

} // namespace ropeline
