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

void handle(LogContext& log, const ShowFit& show) {
    log.state.selection.change_fit(show.draft);
}

void handle(LogContext& log, const KeepFit&) {
    LogState& state = log.state;
    const FitDraft* draft = state.selection.fit();
    const Film* film = chosen_film(state);
    if (!draft || !film) return;
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
                         stored.frame, quality_of(stored.fit).words));
    state.selection.end_fit();
    if (const std::string off = shots_off_the_ice(state); !off.empty())
        log.tell(
            fmt::format("Rink fitted on frame {}, but by it marks of {} lie on no ice: look at the fit, or "
                        "at those marks.",
                        stored.frame, off),
            true);
}

void handle(LogContext& log, const KeepCarry& keep) {
    LogState& state = log.state;
    const auto before = rink_of_moments(state);
    log.file.put(keep.carry);
    std::erase_if(state.carries, [&](const StoredCarry& known) {
        return known.rink_fit_id == keep.carry.rink_fit_id && known.first_frame == keep.carry.first_frame;
    });
    state.carries.push_back(keep.carry);
    const std::set<Id> moments = with_another_rink(before, state);
    if (moments.empty()) return;
    log.file.follow_up([&] { work_out_again(log, moments); });
    state.fits = log.file.rink_fits(open_film(state));
}

} // namespace ropeline
