// What each LogAction does. One handler an action; std::visit finds one that is missing at compile time.
#include "desk/state/log_book.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace ropeline {

void toggle_choice(Shot& shot, CardField field, int number);

void LogBook::choose_number(CardField field, int number) {
    ShotEntry* entry = chosen();
    if (!entry) {
        tell("No shot is open: press [new_shot] to log one at this frame, or [previous_shot] and [next_shot] "
             "to pick one.",
             true);
        return;
    }
    if (number < 1 || number > static_cast<int>(choices_of(field).size())) return;
    if (field == CardField::cues) return turn_cue(static_cast<std::size_t>(number - 1));
    toggle_choice(entry->shot, field, number);
    judge_play(*entry);
    file_.change(fmt::format("{}, {}", label_of(field), shot_name()), [&] {
        file_.put(entry->shot);
        for (Moment& moment : entry->moments)
            file_.put(moment);
    });
    state_.field = field;
    if (chosen_in(entry->shot, field) != 0 && field != CardField::outcome) {
        state_.field = static_cast<CardField>(static_cast<int>(field) + 1);
    }
    state_.notice = {};
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
    file_.wait_for_commit(); // the clicks are let go only then
    reload_shots();
    const auto quality = quality_of(stored.fit);
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
            book.tell("Open a film first: drop one on the desk, or press [games].", true);
            return;
        }
        if (at.image.width_px <= 0) {
            book.tell(
                "No picture is on screen, so there is no frame to log a shot on: open the film with [games].",
                true);
            return;
        }
        if (state.goalie_id.empty()) {
            book.tell("Say who is in net first: press [games] and add a goalie.", true);
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
        for (const ShotEntry& known : state.shots) {
            if (!known.shot.film_id.empty()) shot.period = known.shot.period; // of the last one on a film
        }
        book.follow_clock(shot);
        shot.far_net = likely_far_net(state, shot, at.image);
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
        state.moment.reset();
        state.hand = Hand::first_skate;
        state.field = CardField::read;
        state.held.reset();
        state.notice = {};
    }
    void operator()(const Arm& arm) {
        const ShotEntry* entry = chosen_shot(state);
        if (!entry) {
            book.tell("No shot is open: press [new_shot] to log one at this frame.", true);
            return;
        }
        if (!book.on_the_film(*entry)) return;
        const Moment* moment = moment_in_hand(state);
        const bool elsewhere = moment && moment->film_id != open_film(state);
        if (moment && !moment->marks.empty() && (elsewhere || moment->frame != at.frame))
            book.show(moment->film_id, moment->frame);
        state.hand = arm.hand;
    }
    void operator()(const FilmClick& click) {
        if (state.hand == Hand::landmark && state.fit) {
            if (state.fit->offered.empty()) {
                book.tell(
                    "Pick a landmark or a line on the plan first, then click where it is in the picture.",
                    true);
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
    void operator()(const TakeGhosts&) { book.take_ghosts(at); }
    void operator()(const DragMark& drag) { book.drag_mark(drag.mark, drag.at, drag.done); }
    void operator()(const HoldMark& hold) { state.held = hold.mark; }
    void operator()(const TurnThreat& turn) { book.turn_threat(turn); }
    void operator()(const NewMoment&) { book.begin_moment(at); }
    void operator()(const PickMoment& pick) { book.pick_moment(pick.index); }
    void operator()(const PickMomentBy& by) { book.pick_moment_by(by.steps); }
    void operator()(const NextKind&) { book.turn_kind(); }
    void operator()(const MoveGoalie& move) { book.move_goalie(move.to); }
    void operator()(const Overrule& overrule) { book.overrule(overrule); }
    void operator()(const SetLevel& set) { book.put_in_force(set.level, parameters_for(set.level)); }
    void operator()(const SetParameter& set) { book.set_parameter(set); }
    void operator()(const Nudge& nudge) {
        const Moment* moment = moment_in_hand(state);
        const Mark* mark = moment && state.held && *state.held < moment->marks.size()
                               ? &moment->marks[*state.held]
                               : nullptr;
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
        if (clock.period || !clock.clock_s) entry->shot.period = clock.period;
        entry->shot.clock_s = clock.clock_s;
        entry->shot.clock_from_marks = false;
        book.follow_clock(entry->shot);
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
        state.moment.reset();
        state.hand = Hand::empty;
        state.held.reset();
        state.field = CardField::read;
        state.notice = {};
        const ShotEntry& entry = state.shots[pick.index];
        const Moment* moment = main_moment(entry);
        const bool on_film = moment && !moment->film_id.empty();
        book.show(on_film ? moment->film_id : entry.shot.film_id, moment ? moment->frame : entry.shot.frame);
    }
    void operator()(const ShowFilm& show) { book.show_film(show.index, at); }
    void operator()(const ShowFilmBy& by) { book.show_film_by(by.steps, at); }
    void operator()(const SetClock& set) { book.set_clock(set.text, at); }
    void operator()(const TurnClock&) { book.turn_clock(at); }
    void operator()(const GoToClock& go) { book.go_to_clock(go.text, at); }
    void operator()(const TurnEnds&) { book.turn_ends(); }
    void operator()(const PickShotBy& by) { book.pick_shot_by(by.steps, at); }
    void operator()(const SortList& sort) {
        state.list.falling = sort.by == state.list.by && !state.list.falling;
        state.list.by = sort.by;
    }
    void operator()(const FilterList& list) { state.list.filter = list.filter; }
    void operator()(const BringIn& list) { book.bring_in(list); }
    void operator()(const PutOnFilm& found) { book.put_on_film(found); }
    void operator()(const PlaceShotHere&) { book.place_shot(at); }
    void operator()(const TakeShot&) {
        if (state.fit) return book.keep_fit();
        const ShotEntry* entry = chosen_shot(state);
        if (!entry) {
            book.tell("No shot is open: press [new_shot] to log one at this frame.");
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
    void operator()(const RemoveShot& remove) {
        const ShotEntry* entry = chosen_shot(state);
        if (!entry) return;
        if (remove.whole) return book.remove_shot(true);
        const Moment* moment = moment_in_hand(state);
        const bool holds = moment && state.held && *state.held < moment->marks.size();
        if (holds && moment->marks[*state.held].kind == MarkKind::threat) return book.remove_held();
        if (moment && moment != main_moment(*entry)) return book.remove_moment();
        book.remove_shot(false);
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
            book.tell("Open a film first: drop one on the desk, or press [games].", true);
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
        state.fit = with_best_offer(refitted(std::move(draft)));
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
        if (!state.fit || !in_picture(drag.at, at.image)) return;
        state.fit = with_moved_click(*state.fit, drag.index, drag.at);
        state.notice = {};
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

void LogBook::take_back(const SeasonError& error) {
    const LogState known = state_;
    try {
        reload();
    } catch (const SeasonError&) { // a drive pulled out cannot be read either: what is known stays in view
        state_ = known;
    }
    tell(error.what(), true);
}

bool LogBook::keep() {
    try {
        file_.start_commit();
        return false;
    } catch (const SeasonError& error) {
        take_back(error);
        return true;
    }
}

void LogBook::apply(const LogAction& action, const FrameAt& at) {
    if (state_.film && at.image.width_px > 0) state_.left_at[open_film(state_)] = at.frame;
    try {
        std::visit(LogHandler{*this, at, state_}, action);
    } catch (const SeasonError& error) {
        take_back(error);
    }
}

} // namespace ropeline
