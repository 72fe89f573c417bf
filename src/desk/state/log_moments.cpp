// The steps of one play: several moments of a shot, each with marks of its own.
#include "desk/state/log_book.h"

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

} // namespace

/// A play that gained or lost a moment is judged anew, in the same change.
void LogBook::keep_play(const std::string& name, ShotEntry& entry, const std::function<void()>& also) {
    judge_play(entry);
    file_.change(name, [&] {
        also();
        for (Moment& moment : entry.moments)
            file_.put(moment);
    });
}

void LogBook::begin_moment(const FrameAt& at) {
    ShotEntry* entry = chosen();
    if (!entry) {
        tell("No shot is open: press [new_shot] to log one at this frame.", true);
        return;
    }
    if (!on_the_film(*entry)) return;
    const Moment* hand = moment_in_hand(state_);
    const Moment* first = hand && !is_step(*hand) ? moment_with(*entry, hand->same_as) : hand;
    if (first && first->film_id != open_film(state_)) return begin_second_view(*entry, *first, at);
    const auto same = std::ranges::find_if(entry->moments, [&](const Moment& one) {
        return is_step(one) && one.frame == at.frame && one.film_id == open_film(state_);
    });
    if (same != entry->moments.end()) {
        pick_moment(static_cast<std::size_t>(same - entry->moments.begin()));
        tell(fmt::format(
            "This play already has its {} at this frame. Step to another frame, then [new_moment].",
            label_of(same->kind)));
        return;
    }
    Moment moment;
    moment.shot_id = entry->shot.id;
    moment.film_id = state_.films[*state_.film].id;
    moment.frame = at.frame;
    moment.pts_ticks = at.pts_ticks;
    // Moments stand in the order of the film, after them what a second camera saw.
    std::vector<Moment> all = entry->moments;
    const auto views = std::ranges::stable_partition(all, is_step);
    const std::vector<Moment> seen_twice{views.begin(), views.end()};
    all.erase(views.begin(), views.end());
    moment.kind = likely_kind(all, at.frame);
    const auto place = std::ranges::upper_bound(all, at.frame, {}, &Moment::frame);
    const auto index = static_cast<std::size_t>(place - all.begin());
    all.insert(place, moment);
    all.insert(all.end(), seen_twice.begin(), seen_twice.end());
    for (std::size_t one = 0; one < all.size(); ++one)
        all[one].ordinal = static_cast<int>(one);
    entry->moments = std::move(all);
    keep_play(fmt::format("{}, {}", label_of(moment.kind), shot_name()), *entry, [] {});
    state_.moment = index;
    state_.hand = Hand::first_skate;
    state_.held.reset();
    state_.notice = {};
}

/// The same moment seen by the camera on screen: marks and a fit of its own, and no step of the play.
void LogBook::begin_second_view(ShotEntry& entry, const Moment& first, const FrameAt& at) {
    const auto known = std::ranges::find_if(entry.moments, [&](const Moment& one) {
        return one.same_as == first.id && one.film_id == open_film(state_);
    });
    if (known != entry.moments.end()) {
        const std::int64_t frame = known->frame;
        pick_moment(static_cast<std::size_t>(known - entry.moments.begin()));
        tell(fmt::format("This camera saw the {} at frame {} already.", label_of(first.kind), frame));
        return;
    }
    Moment view;
    view.shot_id = entry.shot.id;
    view.film_id = open_film(state_);
    view.same_as = first.id;
    view.kind = first.kind;
    view.frame = at.frame;
    view.pts_ticks = at.pts_ticks;
    view.ordinal = static_cast<int>(entry.moments.size());
    const std::string name = fmt::format("{} seen by film {}, {}", label_of(view.kind),
                                         film_number(state_, view.film_id), shot_name());
    entry.moments.push_back(view);
    state_.moment = entry.moments.size() - 1;
    keep_play(name, entry, [] {});
    state_.hand = Hand::first_skate;
    state_.held.reset();
    tell(fmt::format("The {} as this camera saw it. Mark goalie and puck: the figures compare both cameras.",
                     label_of(view.kind)));
}

void LogBook::pick_moment(std::size_t index) {
    ShotEntry* entry = chosen();
    if (!entry || index >= entry->moments.size()) return;
    state_.moment = index;
    state_.hand = Hand::empty;
    state_.held.reset();
    state_.notice = {};
    show(entry->moments[index].film_id, entry->moments[index].frame);
}

void LogBook::pick_moment_by(int steps) {
    const ShotEntry* entry = chosen_shot(state_);
    const Moment* now = moment_in_hand(state_);
    if (!entry || !now) return;
    const auto at = now - entry->moments.data() + steps;
    if (at >= 0 && at < static_cast<std::ptrdiff_t>(entry->moments.size()))
        pick_moment(static_cast<std::size_t>(at));
}

void LogBook::turn_kind() {
    Moment* moment = in_hand();
    if (!moment) return;
    if (!is_step(*moment)) {
        tell("The kind is the first camera's: pick that moment with [previous_moment] and turn it there.",
             true);
        return;
    }
    moment->kind = kind_after(moment->kind);
    for (Moment& view : chosen()->moments)
        if (view.same_as == moment->id) view.kind = moment->kind;
    keep_moment(fmt::format("this is the {}", label_of(moment->kind)));
}

/// Unknown, then says shot, then says pass, then unknown again.
void LogBook::turn_cue(std::size_t cue) {
    Moment* moment = in_hand();
    if (!moment || cue >= cue_facts().size()) return;
    if (!is_step(*moment)) {
        tell("The cues belong to the first camera's moment: pick it with [previous_moment] and set them "
             "there.",
             true);
        return;
    }
    const auto kind = static_cast<CueKind>(cue);
    state_.field = CardField::cues;
    const auto known = std::ranges::find(moment->cues, kind, &Cue::kind);
    if (known == moment->cues.end()) {
        moment->cues.push_back({kind, Likelihood::shot});
    } else if (known->says == Likelihood::shot) {
        known->says = Likelihood::pass;
    } else {
        moment->cues.erase(known);
    }
    keep_moment(std::string{cue_facts()[cue].label});
}

void LogBook::remove_moment() {
    ShotEntry* entry = chosen();
    const Moment* moment = in_hand();
    if (!entry || !moment) return;
    const std::string name = fmt::format("{}, {}", label_of(moment->kind), shot_name());
    const Id id = moment->id;
    std::erase_if(entry->moments, [&](const Moment& one) { return one.id == id || one.same_as == id; });
    keep_play("remove " + name, *entry, [&] { file_.remove_moment(id); });
    state_.moment.reset();
    state_.held.reset();
    state_.hand = Hand::empty;
    tell(fmt::format("Removed the {}. [undo] brings it back.", name));
}

} // namespace ropeline
