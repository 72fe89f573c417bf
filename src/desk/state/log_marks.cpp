// Marks: where a click lands, what it changes, and everything worked out again from it.
#include "desk/state/log_book.h"

#include "desk/state/ghosts.h"
#include "desk/state/ice_drawing.h"
#include "desk/state/judged.h"
#include "season/derive.h"
#include "season/play.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

bool in_picture(ImagePoint at, ImageSize size) {
    return at.x_px >= 0.0 && at.y_px >= 0.0 && at.x_px <= size.width_px && at.y_px <= size.height_px;
}

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

void LogBook::rederive(const Shot& shot, Moment& moment) const {
    const FitHere here = fit_for(state_, shot, moment);
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
    derive(moment, here.fit ? &*here.fit : nullptr, rule_book(rules), state_.season.parameters);
}

void LogBook::judge_play(ShotEntry& entry) const {
    const Moment* about = main_moment(entry);
    if (about)
        judge(entry.shot, entry.moments, rule_book(rules_for(state_, *about)), state_.season.parameters);
}

void LogBook::name_fit(Moment& moment) {
    if (moment.film_id != open_film(state_)) return; // it rests on what it rested on
    ropeline::name_fit(file_, fit_here(state_, moment.frame), state_.fits, moment);
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
    file_.follow_up([&] { rederive_film(); });
    reload_film();
}

void LogBook::keep_moment(const std::string& name) {
    ShotEntry* entry = chosen();
    Moment* moment = in_hand();
    if (!moment) return;
    rederive(entry->shot, *moment);
    if (order_skates(*moment)) rederive(entry->shot, *moment);
    judge_play(*entry);
    file_.change(fmt::format("{}, {}", name, shot_name()), [&] {
        name_fit(*moment);
        for (Moment& one : entry->moments)
            file_.put(one);
        file_.put(entry->shot);
    });
    if (moment->film_id == open_film(state_)) state_.fits = file_.rink_fits(moment->film_id);
}

void LogBook::place(ImagePoint click, const FrameAt& at) {
    const auto kind = placed_by(state_.hand);
    Moment* moment = in_hand();
    if (!kind || !moment) return;
    if (moment->film_id != open_film(state_)) {
        const bool elsewhere = film_number(state_, moment->film_id) > 0;
        tell(elsewhere
                 ? fmt::format("The {} of {} lies on film {}: [next_moment] and [previous_moment] go there, "
                               "[new_moment] adds what this camera saw.",
                               label_of(moment->kind), shot_name(), film_number(state_, moment->film_id))
                 : fmt::format("The {} of {} lies on a film that this game does not have.",
                               label_of(moment->kind), shot_name()),
             true);
        state_.hand = Hand::empty;
        return;
    }
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
    if (const FitHere here = fit_here(state_, at.frame);
        here.fit && outside_boards(*ice_at(*here.fit, click), *here.key)) {
        tell("That point lies outside the boards: click where the skate or the puck touches the ice.", true);
        return;
    }
    lay_moment_at(*moment, at);
    if (*kind == MarkKind::goalie) {
        drop_mark(*moment, MarkKind::skate_left);
        drop_mark(*moment, MarkKind::skate_right);
    } else if (*kind == MarkKind::skate_left || *kind == MarkKind::skate_right) {
        drop_mark(*moment, MarkKind::goalie);
    }
    state_.held = mark_of(*moment, *kind);
    moment->marks[*state_.held].at = click;
    keep_moment(fmt::format("{} mark", label_of(*kind)));
    state_.hand = hand_after(state_.hand, *moment);
    tell_of_fit(at.frame);
}

void LogBook::take_ghosts(const FrameAt& at) {
    Moment* moment = in_hand();
    const auto taken = ghosts_asked_for(ghosts(state_, at.frame, at.image), state_.hand);
    if (!moment || taken.empty()) {
        tell("No faint mark stands here to take over: click where the mark belongs.", true);
        return;
    }
    lay_moment_at(*moment, at);
    for (const Ghost& ghost : taken) {
        Mark& mark = moment->marks[mark_of(*moment, ghost.kind)];
        mark.at = ghost.at;
        mark.one_timer = ghost.one_timer;
        mark.pass_open = ghost.pass_open;
    }
    state_.held.reset();
    keep_moment("marks taken over");
    state_.hand = hand_after(state_.hand == Hand::first_skate ? Hand::second_skate : state_.hand, *moment);
    tell_of_fit(at.frame);
}

/// Marks can be placed on this frame from now on: the moment, and the shot it stands for, move here.
void LogBook::lay_moment_at(Moment& moment, const FrameAt& at) {
    moment.frame = at.frame;
    moment.pts_ticks = at.pts_ticks;
    ShotEntry& entry = *chosen();
    if (&moment != main_moment(entry)) return;
    entry.shot.frame = at.frame;
    entry.shot.pts_ticks = at.pts_ticks;
    entry.shot.film_s = at.film_s;
    follow_clock(entry.shot);
}

/// Says why a mark just placed gives no depth.
void LogBook::tell_of_fit(std::int64_t frame) {
    switch (fit_here(state_, frame).source) {
    case FitHere::Source::none:
        tell("Marked. There is no rink fit on this film yet, so no depth: press [fit_rink] to fit the rink.");
        break;
    case FitHere::Source::lost:
        tell("Marked. The rink was lost on the way to this frame, so no depth: press [fit_rink] to fit it "
             "here.");
        break;
    case FitHere::Source::clicked:
    case FitHere::Source::carried:
    case FitHere::Source::assumed:
        state_.notice = {};
        if (const Moment* moment = in_hand()) warn_of_far_net(*chosen(), *moment);
        break;
    }
}

/// A goalie stands nearer to the net he defends.
void LogBook::warn_of_far_net(const ShotEntry& entry, const Moment& moment) {
    const auto goalie = goalie_place(moment);
    if (!goalie || !is_step(moment)) return;
    if (goalie->y_m <= rule_book(rules_for(state_, moment)).red_line_centre.m) return;
    tell(
        fmt::format("The goalie stands nearer to the other net: [turn_ends] says that he defends the {} one.",
                    entry.shot.far_net ? "near" : "far"),
        true);
}

Moment* LogBook::in_hand() {
    return const_cast<Moment*>(moment_in_hand(state_)); // state_ is our own and not const
}

void LogBook::drag_mark(std::size_t mark, ImagePoint to, bool done) {
    Moment* moment = in_hand();
    if (!moment || mark >= moment->marks.size()) return;
    moment->marks[mark].at = to;
    state_.held = mark;
    if (done) {
        keep_moment(fmt::format("{} moved", label_of(moment->marks[mark].kind)));
    } else {
        rederive(chosen()->shot, *moment);
        judge_play(*chosen());
    }
}

namespace {

/// The threat that is held, else the last one marked.
Mark* threat_in_hand(Moment& moment, const std::optional<std::size_t>& held) {
    if (held && *held < moment.marks.size() && moment.marks[*held].kind == MarkKind::threat)
        return &moment.marks[*held];
    const auto last = std::find_if(moment.marks.rbegin(), moment.marks.rend(),
                                   [](const Mark& mark) { return mark.kind == MarkKind::threat; });
    return last == moment.marks.rend() ? nullptr : &*last;
}

} // namespace

void LogBook::turn_threat(const TurnThreat& turn) {
    Moment* moment = in_hand();
    Mark* threat = moment ? threat_in_hand(*moment, state_.held) : nullptr;
    if (!threat) {
        tell("No opponent is marked yet: [mark_threat] marks one who could take a pass.", true);
        return;
    }
    if (turn.one_timer) threat->one_timer = !threat->one_timer;
    if (turn.open) threat->pass_open = !threat->pass_open;
    keep_moment(turn.one_timer ? (threat->one_timer ? "one-timer" : "catch and shoot")
                               : (threat->pass_open ? "pass lane open" : "pass lane blocked"));
}

void LogBook::remove_held() {
    Moment* moment = in_hand();
    if (!moment || !state_.held || *state_.held >= moment->marks.size()) return;
    moment->marks.erase(moment->marks.begin() + static_cast<std::ptrdiff_t>(*state_.held));
    state_.held.reset();
    keep_moment("remove an opponent");
}

void LogBook::move_goalie(IcePoint to) {
    Moment* moment = in_hand();
    const FitHere here = moment ? fit_for(state_, chosen()->shot, *moment) : FitHere{};
    const auto from = moment ? goalie_place(*moment) : std::nullopt;
    if (!here.fit || !from) return;
    for (Mark& mark : moment->marks) {
        const bool goalie = mark.kind == MarkKind::goalie || mark.kind == MarkKind::skate_left ||
                            mark.kind == MarkKind::skate_right;
        if (!goalie || !mark.ice) continue;
        const auto seen = image_at(*here.fit, *mark.ice + (to - *from));
        if (!seen) return;
        mark.at = *seen;
    }
    keep_moment("goalie moved on the plan");
}

void LogBook::overrule(const Overrule& overrule) {
    Moment* moment = in_hand();
    if (!moment) return;
    moment->overruled = overrule.verdict;
    moment->overrule_reason = overrule.verdict ? overrule.reason : std::string{};
    keep_moment(overrule.verdict ? fmt::format("verdict overruled, {}", label_of(*overrule.verdict))
                                 : std::string{"the model's verdict stands"});
}

void LogBook::rederive_film() {
    const Id film_id = state_.films[*state_.film].id;
    for (ShotEntry& entry : state_.shots) {
        for (Moment& moment : entry.moments) {
            if (moment.film_id != film_id || moment.marks.empty()) continue;
            rederive(entry.shot, moment);
            name_fit(moment);
        }
        judge_play(entry);
        for (Moment& moment : entry.moments)
            file_.put(moment);
    }
}

} // namespace ropeline
