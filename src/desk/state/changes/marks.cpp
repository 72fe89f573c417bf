#include "desk/state/changes/marks.h"

#include "desk/state/changes/clock.h"
#include "desk/state/changes/films.h"
#include "desk/state/changes/fitting.h"
#include "desk/state/changes/nets.h"
#include "desk/state/changes/placing.h"
#include "desk/state/changes/play_figures.h"
#include "desk/state/ghosts.h"
#include "desk/state/reload.h"
#include "desk/state/rink_here.h"
#include "sheet/ice_drawing.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

/// Place of the mark of this kind among the moment's, made when there is none; a threat is always a new one.
std::size_t mark_of(Moment& moment, MarkKind kind) {
    const auto found = std::ranges::find(moment.marks, kind, &Mark::kind);
    if (kind != MarkKind::threat && found != moment.marks.end())
        return static_cast<std::size_t>(found - moment.marks.begin());
    Mark mark;
    mark.kind = kind;
    moment.marks.push_back(mark);
    return moment.marks.size() - 1;
}

void drop_mark(Moment& moment, MarkKind kind) {
    std::erase_if(moment.marks, [&](const Mark& mark) { return mark.kind == kind; });
}

/// By more than a fit is ever off that a coach would keep.
bool outside_boards(IcePoint at, const StoredFit& fit) {
    constexpr double slack_m = 1.5;
    const RuleBook& rules = rule_book(fit.rules);
    const double behind = rules.goal_line_to_boards.m + slack_m;
    return std::abs(at.x_m) > 0.5 * rules.rink_width.m + slack_m || at.y_m < -behind ||
           at.y_m > rules.rink_length.m - rules.goal_line_to_boards.m + slack_m;
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
    case Hand::threat:
        return MarkKind::threat;
    case Hand::empty:
    case Hand::landmark:
        break;
    }
    return std::nullopt;
}

/// What the hand asks for next: skates, then the puck, then the opponent a pass could reach; each once.
Hand hand_after(Hand placed, const Moment& moment) {
    switch (placed) {
    case Hand::first_skate:
        return Hand::second_skate;
    case Hand::second_skate:
    case Hand::goalie:
        if (!find_mark(moment, MarkKind::puck)) return Hand::puck;
        return Hand::empty;
    case Hand::puck:
        return find_mark(moment, MarkKind::threat) ? Hand::empty : Hand::threat;
    case Hand::threat:
    case Hand::empty:
    case Hand::landmark:
        break;
    }
    return Hand::empty;
}

/// Why no mark can lie at this place of that frame's picture; null when one can.
const char* why_no_mark(const LogContext& log, std::int64_t frame, ImagePoint at) {
    if (!in_picture(at, log.at.image))
        return "That is outside the picture: click on the ice where the skate or the puck touches it.";
    const FitHere here = fit_here(log.state, frame);
    if (!here.fit) return nullptr;
    const auto place = ice_at(*here.fit, at);
    if (!place) return "That point lies above the horizon of the fitted rink, not on the ice: click lower.";
    if (outside_boards(*place, *here.key))
        return "That point lies outside the boards: click where the skate or the puck touches the ice.";
    return nullptr;
}

/// Marks can be placed on this frame from now on: the moment, and the shot it stands for, move here.
void lay_moment_here(LogContext& log, Moment& moment) {
    const FrameAt& at = log.at;
    moment.frame = at.frame;
    moment.pts_ticks = at.pts_ticks;
    ShotEntry& entry = *shot_to_change(log.state);
    if (&moment != main_moment(entry)) return;
    entry.shot.frame = at.frame;
    entry.shot.pts_ticks = at.pts_ticks;
    entry.shot.film_s = at.film_s;
    follow_clock(log.state, entry.shot);
}

/// Says why a mark just placed gives no depth.
void tell_of_fit(LogContext& log) {
    switch (fit_here(log.state, log.at.frame).source) {
    case FitHere::Source::none:
        log.tell(
            "Marked. There is no rink fit on this film yet, so no depth: press [fit_rink] to fit the rink.");
        break;
    case FitHere::Source::lost:
        log.tell(
            "Marked. The rink was lost on the way to this frame, so no depth: press [fit_rink] to fit it "
            "here.");
        break;
    case FitHere::Source::elsewhere:
        log.tell("Marked, not measured: the rink is not known in this frame. It is looked for when the film "
                 "stands; [fit_rink] fits it here.");
        break;
    case FitHere::Source::clicked:
    case FitHere::Source::carried:
        log.tell_nothing();
        if (const Moment* moment = moment_in_hand(log.state))
            warn_of_far_net(log, *chosen_shot(log.state), *moment);
        break;
    }
}

/// True, and said, when the moment cannot be marked on the film and the frame on screen.
bool lies_elsewhere(LogContext& log, const Moment& moment) {
    LogState& state = log.state;
    if (moment.film_id != open_film(state)) {
        const int film = film_number(state, moment.film_id);
        log.tell(film > 0 ? fmt::format(
                                "The {} of {} lies on film {}: [next_moment] and [previous_moment] go there, "
                                "[new_moment] adds what this camera saw.",
                                label_of(moment.kind), shot_name(state), film)
                          : fmt::format("The {} of {} lies on a film that this game does not have.",
                                        label_of(moment.kind), shot_name(state)),
                 true);
        state.selection.take(Hand::empty);
        return true;
    }
    if (moment.frame == log.at.frame || moment.marks.empty()) return false;
    state.selection.go_to_frame(moment.frame);
    log.tell(fmt::format("The marks of {} belong to frame {}; the film is back there.", shot_name(state),
                         moment.frame),
             true);
    return true;
}

/// How an opponent there usually shoots; where the rink is not known, he stops it.
ReceiverKind usual_receiver(const LogState& state, const Moment& moment, ImagePoint at) {
    const FitHere here = fit_for(state, chosen_shot(state)->shot, moment);
    const auto place = here.fit ? ice_at(*here.fit, at) : std::nullopt;
    return place ? usual_kind(*place) : ReceiverKind::stop;
}

/// The threat that is held, else the last one marked.
Mark* threat_in_hand(Moment& moment, const std::optional<std::size_t>& held) {
    if (held && moment.marks[*held].kind == MarkKind::threat) return &moment.marks[*held];
    const auto last = std::find_if(moment.marks.rbegin(), moment.marks.rend(),
                                   [](const Mark& mark) { return mark.kind == MarkKind::threat; });
    return last == moment.marks.rend() ? nullptr : &*last;
}

} // namespace

void handle(LogContext& log, const Arm& arm) {
    LogState& state = log.state;
    const ShotEntry* entry = chosen_shot(state);
    if (!entry) return log.tell(no_shot_is_open, true);
    if (!has_its_place(log, *entry)) return;
    const Moment* moment = moment_in_hand(state);
    const bool elsewhere = moment && moment->film_id != open_film(state);
    if (moment && !moment->marks.empty() && (elsewhere || moment->frame != log.at.frame))
        show_frame(log, moment->film_id, moment->frame);
    state.selection.take(arm.hand);
}

void handle(LogContext& log, const FilmClick& click) {
    Selection& open = log.state.selection;
    if (open.fit()) return click_landmark(log, click.at);
    const Hand hand = open.hand();
    const auto kind = placed_by(hand);
    Moment* moment = moment_to_change(log.state);
    if (!kind || !moment || lies_elsewhere(log, *moment)) return;
    if (const char* trouble = why_no_mark(log, log.at.frame, click.at)) return log.tell(trouble, true);
    lay_moment_here(log, *moment);
    if (*kind == MarkKind::goalie) {
        drop_mark(*moment, MarkKind::skate_left);
        drop_mark(*moment, MarkKind::skate_right);
    } else if (*kind == MarkKind::skate_left || *kind == MarkKind::skate_right) {
        drop_mark(*moment, MarkKind::goalie);
    }
    const std::size_t mark = mark_of(*moment, *kind);
    moment->marks[mark].at = click.at;
    if (*kind == MarkKind::threat)
        moment->marks[mark].receiver = usual_receiver(log.state, *moment, click.at);
    open.hold(moment->id, mark);
    keep_moment(log, fmt::format("{} mark", label_of(*kind)));
    open.take(hand_after(hand, *moment));
    tell_of_fit(log);
}

void handle(LogContext& log, const TakeGhosts&) {
    LogState& state = log.state;
    Moment* moment = moment_to_change(state);
    const Hand hand = state.selection.hand();
    const auto taken = ghosts_asked_for(ghosts(state, log.at.frame, log.at.image), hand);
    if (!moment || taken.empty()) {
        log.tell("No faint mark stands here to take over: click where the mark belongs.", true);
        return;
    }
    lay_moment_here(log, *moment);
    for (const Ghost& ghost : taken) {
        Mark& mark = moment->marks[mark_of(*moment, ghost.kind)];
        mark.at = ghost.at;
        mark.receiver = ghost.receiver;
        mark.lane = ghost.lane;
    }
    state.selection.let_go_of_mark();
    keep_moment(log, "marks taken over");
    state.selection.take(hand_after(hand == Hand::first_skate ? Hand::second_skate : hand, *moment));
    tell_of_fit(log);
}

void handle(LogContext& log, const OfferFollowed& offer) {
    log.state.followed = offer.to;
}

void handle(LogContext& log, const DragMark& drag) {
    Moment* moment = moment_to_change(log.state);
    if (!moment || drag.mark >= moment->marks.size()) return;
    log.state.selection.hold(moment->id, drag.mark);
    if (const char* trouble = drag.done ? why_no_mark(log, moment->frame, drag.at) : nullptr) {
        reload_shots(log.file, log.state); // where it was before it was dragged
        return log.tell(trouble, true);
    }
    moment->marks[drag.mark].at = drag.at;
    if (drag.done) return keep_moment(log, fmt::format("{} moved", label_of(moment->marks[drag.mark].kind)));
    ShotEntry& entry = *shot_to_change(log.state);
    work_out(log.state, entry.shot, *moment);
    judge_play(log.state, entry);
}

void handle(LogContext& log, const HoldMark& hold) {
    if (const Moment* moment = moment_in_hand(log.state)) log.state.selection.hold(moment->id, hold.mark);
}

void handle(LogContext& log, const Nudge& nudge) {
    const Moment* moment = moment_in_hand(log.state);
    const auto held = held_mark(log.state);
    const auto at = held ? moment->marks[*held].at : std::nullopt;
    if (!at) {
        log.tell("No mark is held: click one of this shot's marks, then nudge it.", true);
        return;
    }
    const ImagePoint to{at->x_px + nudge.dx_px, at->y_px + nudge.dy_px};
    if (in_picture(to, log.at.image)) handle(log, DragMark{*held, to, true});
}

namespace {

/// Stops it, one-timer, tip, round and round: one turn makes a one-timer of who is far from the net.
ReceiverKind receiver_after(ReceiverKind kind) {
    if (kind == ReceiverKind::stop) return ReceiverKind::one_timer;
    return kind == ReceiverKind::one_timer ? ReceiverKind::tip : ReceiverKind::stop;
}

} // namespace

void handle(LogContext& log, const TurnThreat& turn) {
    Moment* moment = moment_to_change(log.state);
    Mark* threat = moment ? threat_in_hand(*moment, held_mark(log.state)) : nullptr;
    if (!threat) {
        log.tell("No opponent is marked yet: [mark_threat] marks one who could take a pass.", true);
        return;
    }
    if (turn.receiver) {
        threat->receiver = receiver_after(threat->receiver);
        return keep_moment(log, std::string{label_of(threat->receiver)});
    }
    if (turn.lane) {
        threat->lane = threat->lane == Lane::open ? Lane::contested : Lane::open;
        return keep_moment(log, threat->lane == Lane::open ? "pass lane open" : "pass lane contested");
    }
    const bool took = !threat->took;
    for (Mark& mark : moment->marks)
        mark.took = false; // one at most
    threat->took = took;
    keep_moment(log, took ? "this one got the pass" : "this one did not get the pass");
}

void handle(LogContext& log, const MoveGoalie& move) {
    Moment* moment = moment_to_change(log.state);
    const FitHere here = moment ? fit_for(log.state, chosen_shot(log.state)->shot, *moment) : FitHere{};
    const auto from = moment ? goalie_place(*moment) : std::nullopt;
    if (!here.fit || !from) return;
    for (Mark& mark : moment->marks) {
        const bool goalie = mark.kind == MarkKind::goalie || mark.kind == MarkKind::skate_left ||
                            mark.kind == MarkKind::skate_right;
        if (!goalie || !mark.ice) continue;
        const auto seen = image_at(*here.fit, *mark.ice + (move.to - *from));
        if (!seen) return;
        mark.at = *seen;
    }
    keep_moment(log, "goalie moved on the plan");
}

void handle(LogContext& log, const PutDown&) {
    Selection& open = log.state.selection;
    if (open.fit()) {
        open.end_fit();
        log.tell("The rink fit was left as it was.");
    } else if (open.hand() == Hand::empty && !held_mark(log.state)) {
        open.open_shot({});
    }
    open.let_go();
}

void remove_held_mark(LogContext& log) {
    Moment* moment = moment_to_change(log.state);
    const auto held = held_mark(log.state);
    if (!held) return;
    moment->marks.erase(moment->marks.begin() + static_cast<std::ptrdiff_t>(*held));
    log.state.selection.let_go_of_mark();
    keep_moment(log, "remove an opponent");
}

} // namespace ropeline
