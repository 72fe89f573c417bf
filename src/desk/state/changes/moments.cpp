#include "desk/state/changes/moments.h"

#include "desk/state/changes/films.h"
#include "desk/state/changes/placing.h"
#include "desk/state/changes/play_figures.h"
#include "season/play.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace ropeline {

namespace {

/// What a new moment most likely is: before the release a pass, a second one before that the entry; after it
/// the rebound.
MomentKind likely_kind(const std::vector<Moment>& moments, std::int64_t frame) {
    const auto release = std::ranges::find(moments, MomentKind::release, &Moment::kind);
    if (release == moments.end()) return MomentKind::release;
    if (frame > release->frame) return MomentKind::rebound;
    const auto has = [&](MomentKind kind) {
        return std::ranges::any_of(moments, [&](const Moment& one) { return one.kind == kind; });
    };
    const auto pass = std::ranges::find(moments, MomentKind::pass, &Moment::kind);
    if (pass == moments.end()) return MomentKind::pass;
    if (frame > pass->frame) return MomentKind::reception;
    return has(MomentKind::entry) ? MomentKind::pass : MomentKind::entry;
}

MomentKind kind_after(MomentKind kind) {
    constexpr std::array kinds = {MomentKind::entry, MomentKind::pass, MomentKind::reception,
                                  MomentKind::release, MomentKind::rebound};
    const auto found = std::ranges::find(kinds, kind);
    return found + 1 == kinds.end() ? kinds.front() : *(found + 1);
}

const Moment* moment_with(const ShotEntry& entry, const Id& id) {
    const auto found = std::ranges::find(entry.moments, id, &Moment::id);
    return found == entry.moments.end() ? nullptr : &*found;
}

/// Moments stand in the order of the film, after them what a second camera saw.
void insert_step(std::vector<Moment>& moments, Moment fresh) {
    const auto views = std::ranges::stable_partition(moments, is_step);
    const std::vector<Moment> seen_twice{views.begin(), views.end()};
    moments.erase(views.begin(), views.end());
    fresh.kind = likely_kind(moments, fresh.frame);
    moments.insert(std::ranges::upper_bound(moments, fresh.frame, {}, &Moment::frame), fresh);
    moments.insert(moments.end(), seen_twice.begin(), seen_twice.end());
    for (std::size_t index = 0; index < moments.size(); ++index)
        moments[index].ordinal = static_cast<int>(index);
}

/// The moment that was just begun is in hand, its skates are asked for.
void mark_from_here(Selection& selection, const Id& moment_id) {
    selection.open_moment(moment_id);
    selection.take(Hand::first_skate);
}

/// The same moment seen by the camera on screen: marks and a fit of its own, and no step of the play.
void begin_second_view(LogContext& log, ShotEntry& entry, const Moment& first) {
    LogState& state = log.state;
    const auto known = std::ranges::find_if(entry.moments, [&](const Moment& one) {
        return one.same_as == first.id && one.film_id == open_film(state);
    });
    if (known != entry.moments.end()) {
        const std::int64_t frame = known->frame;
        handle(log, PickMoment{static_cast<std::size_t>(known - entry.moments.begin())});
        log.tell(fmt::format("This camera saw the {} at frame {} already.", label_of(first.kind), frame));
        return;
    }
    Moment view;
    view.shot_id = entry.shot.id;
    view.film_id = open_film(state);
    view.same_as = first.id;
    view.kind = first.kind;
    view.frame = log.at.frame;
    view.pts_ticks = log.at.pts_ticks;
    view.ordinal = static_cast<int>(entry.moments.size());
    const std::string name = fmt::format("{} seen by film {}, {}", label_of(view.kind),
                                         film_number(state, view.film_id), shot_name(state));
    entry.moments.push_back(view);
    keep_play(log, name, entry, [] {});
    mark_from_here(state.selection, entry.moments.back().id);
    log.tell(
        fmt::format("The {} as this camera saw it. Mark goalie and puck: the figures compare both cameras.",
                    label_of(view.kind)));
}

} // namespace

void handle(LogContext& log, const NewMoment&) {
    LogState& state = log.state;
    ShotEntry* entry = shot_to_change(state);
    if (!entry) return log.tell(no_shot_is_open, true);
    if (!has_its_place(log, *entry)) return;
    const Moment* hand = moment_in_hand(state);
    const Moment* first = hand && !is_step(*hand) ? moment_with(*entry, hand->same_as) : hand;
    if (first && first->film_id != open_film(state)) return begin_second_view(log, *entry, *first);
    const auto here = [&](const Moment& one) {
        return is_step(one) && one.frame == log.at.frame && one.film_id == open_film(state);
    };
    if (const auto same = std::ranges::find_if(entry->moments, here); same != entry->moments.end()) {
        const MomentKind kind = same->kind;
        handle(log, PickMoment{static_cast<std::size_t>(same - entry->moments.begin())});
        log.tell(fmt::format(
            "This play already has its {} at this frame. Step to another frame, then [new_moment].",
            label_of(kind)));
        return;
    }
    Moment moment;
    moment.shot_id = entry->shot.id;
    moment.film_id = open_film(state);
    moment.frame = log.at.frame;
    moment.pts_ticks = log.at.pts_ticks;
    insert_step(entry->moments, moment);
    const auto fresh = std::ranges::find_if(entry->moments, here);
    keep_play(log, fmt::format("{}, {}", label_of(fresh->kind), shot_name(state)), *entry, [] {});
    mark_from_here(state.selection, fresh->id);
    log.tell_nothing();
}

void handle(LogContext& log, const PickMoment& pick) {
    const ShotEntry* entry = chosen_shot(log.state);
    if (!entry || pick.index >= entry->moments.size()) return;
    const Moment& moment = entry->moments[pick.index];
    log.state.selection.open_moment(moment.id);
    log.tell_nothing();
    show_frame(log, moment.film_id, moment.frame);
}

void handle(LogContext& log, const PickMomentBy& by) {
    const ShotEntry* entry = chosen_shot(log.state);
    const Moment* now = moment_in_hand(log.state);
    if (!entry || !now) return;
    const auto at = now - entry->moments.data() + by.steps;
    if (at >= 0 && at < static_cast<std::ptrdiff_t>(entry->moments.size()))
        handle(log, PickMoment{static_cast<std::size_t>(at)});
}

void handle(LogContext& log, const NextKind&) {
    Moment* moment = moment_to_change(log.state);
    if (!moment) return;
    if (!is_step(*moment)) {
        log.tell("The kind is the first camera's: pick that moment with [previous_moment] and turn it there.",
                 true);
        return;
    }
    moment->kind = kind_after(moment->kind);
    for (Moment& view : shot_to_change(log.state)->moments)
        if (view.same_as == moment->id) view.kind = moment->kind;
    keep_moment(log, fmt::format("this is the {}", label_of(moment->kind)));
}

void handle(LogContext& log, const Overrule& overrule) {
    Moment* moment = moment_to_change(log.state);
    if (!moment) return;
    moment->overruled = overrule.verdict;
    moment->overrule_reason = overrule.verdict ? overrule.reason : std::string{};
    keep_moment(log, overrule.verdict ? fmt::format("verdict overruled, {}", label_of(*overrule.verdict))
                                      : std::string{"the model's verdict stands"});
}

void turn_cue(LogContext& log, std::size_t cue) {
    Moment* moment = moment_to_change(log.state);
    if (!moment || cue >= cue_facts().size()) return;
    if (!is_step(*moment)) {
        log.tell("The cues belong to the first camera's moment: pick it with [previous_moment] and set them "
                 "there.",
                 true);
        return;
    }
    const auto kind = static_cast<CueKind>(cue);
    log.state.field = CardField::cues;
    const auto known = std::ranges::find(moment->cues, kind, &Cue::kind);
    if (known == moment->cues.end()) {
        moment->cues.push_back({kind, Likelihood::shot});
    } else if (known->says == Likelihood::shot) {
        known->says = Likelihood::pass;
    } else {
        moment->cues.erase(known);
    }
    keep_moment(log, std::string{cue_facts()[cue].label});
}

void remove_moment(LogContext& log) {
    ShotEntry* entry = shot_to_change(log.state);
    const Moment* moment = moment_in_hand(log.state);
    if (!entry || !moment) return;
    const std::string name = fmt::format("{}, {}", label_of(moment->kind), shot_name(log.state));
    const Id id = moment->id;
    std::erase_if(entry->moments, [&](const Moment& one) { return one.id == id || one.same_as == id; });
    keep_play(log, "remove " + name, *entry, [&] { log.file.remove_moment(id); });
    log.state.selection.open_moment({});
    log.tell(fmt::format("Removed the {}. [undo] brings it back.", name));
}

} // namespace ropeline
