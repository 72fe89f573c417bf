#include "desk/state/changes/fitting.h"

#include "desk/state/changes/play_figures.h"
#include "desk/state/reload.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

StoredFit fit_to_store(const FitDraft& draft, const Id& film_id) {
    StoredFit stored;
    stored.id = draft.stored_id;
    stored.film_id = film_id;
    stored.frame = draft.frame;
    stored.pts_ticks = draft.pts_ticks;
    stored.rules = draft.rules;
    stored.landmarks = draft.clicks;
    stored.fit = *draft.fit;
    return stored;
}

} // namespace

void handle(LogContext& log, const BeginFit&) {
    LogState& state = log.state;
    if (!chosen_film(state)) return log.tell(no_film_is_open, true);
    if (state.selection.fit()) return;
    FitDraft draft;
    draft.frame = log.at.frame;
    draft.pts_ticks = log.at.pts_ticks;
    draft.image = log.at.image;
    draft.rules = game_rules(state);
    for (const StoredFit& fit : state.fits) {
        if (fit.frame != log.at.frame || !fit.carried_from.empty()) continue;
        draft.stored_id = fit.id;
        draft.clicks = fit.landmarks;
    }
    draft.cameras = cameras_of_film(state, draft.stored_id);
    state.selection.begin_fit(with_best_offer(refitted(std::move(draft))));
    log.tell_nothing();
}

void click_landmark(LogContext& log, ImagePoint at) {
    Selection& open = log.state.selection;
    if (open.fit()->offered.empty()) {
        log.tell("Pick a landmark or a line on the plan first, then click where it is in the picture.", true);
    } else if (!in_picture(at, log.at.image)) {
        log.tell("That is outside the picture.", true);
    } else if (open.fit()->frame != log.at.frame) {
        open.go_to_frame(open.fit()->frame);
        log.tell(fmt::format("This fit is for frame {}; the film is back there.", open.fit()->frame), true);
    } else {
        open.change_fit(with_click(*open.fit(), at));
        log.tell_nothing();
    }
}

void handle(LogContext& log, const OfferLandmark& offer) {
    Selection& open = log.state.selection;
    if (open.fit()) open.show_fit(with_offer(*open.fit(), offer.name));
}

void handle(LogContext& log, const OfferOther&) {
    Selection& open = log.state.selection;
    if (open.fit()) open.show_fit(with_other_offer(*open.fit()));
}

void handle(LogContext& log, const DragClick& drag) {
    Selection& open = log.state.selection;
    if (!open.fit() || !in_picture(drag.at, log.at.image)) return;
    open.drag_in_fit(with_moved_click(*open.fit(), drag.index, drag.at), drag.index);
    log.tell_nothing();
}

void handle(LogContext& log, const RemoveClick& remove) {
    Selection& open = log.state.selection;
    if (open.fit()) open.change_fit(without_click(*open.fit(), remove.index));
}

void handle(LogContext& log, const OfferFit& offer) {
    Selection& open = log.state.selection;
    if (!open.fit() || open.fit()->frame != offer.frame) return;
    FitDraft draft = *open.fit();
    draft.proposed = offer.fit;
    open.show_fit(std::move(draft));
}

void handle(LogContext& log, const TakeProposal&) {
    Selection& open = log.state.selection;
    if (!open.fit())
        return log.tell(
            "Press [fit_rink] first; where the paint of the frame says it clearly, a fit is then drawn "
            "over the picture, and [take_proposal] takes it.",
            true);
    if (!open.fit()->proposed)
        return log.tell(
            "No fit is proposed on this frame, or not yet: the paint has to say it clearly. Click the "
            "landmarks that you see.",
            true);
    open.change_fit(with_proposal_taken(*open.fit()));
    log.tell_nothing();
}

void handle(LogContext& log, const ShowFit& show) {
    log.state.selection.change_fit(show.draft);
}

void handle(LogContext& log, const SwapSides&) {
    Selection& open = log.state.selection;
    if (!open.fit() || open.fit()->clicks.empty())
        return log.tell(
            "Press [fit_rink] and click landmarks first; [swap_sides] then swaps left and right of "
            "them all.",
            true);
    open.change_fit(with_sides_swapped(*open.fit()));
    log.tell("Left and right of all clicks are swapped. [undo] swaps them back.");
}

void handle(LogContext& log, const KeepFit&) {
    LogState& state = log.state;
    const FitDraft* draft = state.selection.fit();
    const Film* film = chosen_film(state);
    if (!draft || !film) return;
    if (!draft->fit && draft->proposed)
        return log.tell(
            "[take_proposal] takes the fit that is drawn; a fit of your own clicks needs more landmarks.",
            true);
    if (!draft->fit) return log.tell("This fit cannot be kept yet. " + draft->trouble, true);
    StoredFit stored = fit_to_store(*draft, film->id);
    const auto before = rink_of_moments(state);
    log.file.change(fmt::format("rink fit, frame {}", stored.frame), [&] {
        log.file.put(stored);
        if (!draft->stored_id.empty()) log.file.forget_carry(stored.id);
        reload_fits(log.file, state);
        work_out_again(log, with_another_rink(before, state));
    });
    log.file.wait_for_commit(); // the clicks are let go only then
    reload_shots(log.file, state);
    state.fits = log.file.rink_fits(film->id); // those carried to marked moments among them
    log.tell(fmt::format("Rink fitted on frame {}; {}. It is followed from here through the film.",
                         stored.frame, quality_of(stored.fit, draft->rests_on).words));
    state.selection.end_fit();
    if (const std::string off = shots_off_the_ice(state); !off.empty())
        log.tell(
            fmt::format("Rink fitted on frame {}, but by it marks of {} lie on no ice: look at the fit, or "
                        "at those marks.",
                        stored.frame, off),
            true);
}

namespace {

/// A frame that was found by itself stays known where the walk lost it.
void keep_found(const StoredCarry& found, StoredCarry& stretch) {
    for (std::size_t i = 0; i < found.frames.size(); ++i) {
        const std::int64_t frame = found.first_frame + static_cast<std::int64_t>(i);
        if (!stretch.has(frame) || found.frames.state(i) != CarryState::held) continue;
        const auto at = static_cast<std::size_t>(frame - stretch.first_frame);
        if (stretch.frames.state(at) != CarryState::held) stretch.frames.replace(at, found.frames[i]);
    }
}

/// The stretch as it is kept: of one that lies within a known one, that one with what is new in it; else the new one
/// with what was known of its frames. Those that it has in it go.
StoredCarry joined(LogState& state, SeasonFile& file, StoredCarry carry) {
    const auto within = [](const StoredCarry& one, const StoredCarry& other) {
        return other.has(one.first_frame) && other.has(one.last_frame());
    };
    for (StoredCarry& known : state.carries) {
        if (known.rink_fit_id != carry.rink_fit_id || carry.frames.empty() || !within(carry, known)) continue;
        keep_found(carry, known);
        carry = known;
    }
    std::erase_if(state.carries, [&](const StoredCarry& known) {
        if (known.rink_fit_id != carry.rink_fit_id || !within(known, carry)) return false;
        keep_found(known, carry);
        if (known.first_frame != carry.first_frame) file.forget_stretch(known);
        return true;
    });
    return carry;
}

} // namespace

void handle(LogContext& log, const KeepCarry& keep) {
    LogState& state = log.state;
    const auto before = rink_of_moments(state);
    StoredCarry carry = joined(state, log.file, keep.carry);
    log.file.put(carry);
    state.carries.push_back(std::move(carry));
    const std::set<Id> moments = with_another_rink(before, state);
    if (moments.empty()) return;
    log.file.follow_up([&] { work_out_again(log, moments); });
    state.fits = log.file.rink_fits(open_film(state));
}

} // namespace ropeline
