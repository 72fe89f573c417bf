// The steps of one play: several moments of a shot, each with marks of its own.
#include "desk/state/log_book.h"

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
        tell("No shot is open: press N to log one at this frame.", true);
        return;
    }
    if (!on_the_film(*entry)) return;
    const auto same = std::ranges::find(entry->moments, at.frame, &Moment::frame);
    if (same != entry->moments.end()) {
        pick_moment(static_cast<std::size_t>(same - entry->moments.begin()));
        tell(fmt::format("This play already has its {} at this frame. Step to another frame, then A.",
                         label_of(same->kind)));
        return;
    }
    Moment moment;
    moment.shot_id = entry->shot.id;
    moment.film_id = state_.films[*state_.film].id;
    moment.frame = at.frame;
    moment.pts_ticks = at.pts_ticks;
    moment.kind = likely_kind(entry->moments, at.frame);
    // Moments stand in the order of the film.
    std::vector<Moment> all = entry->moments;
    const auto place = std::ranges::upper_bound(all, at.frame, {}, &Moment::frame);
    const auto index = static_cast<std::size_t>(place - all.begin());
    all.insert(place, moment);
    for (std::size_t one = 0; one < all.size(); ++one)
        all[one].ordinal = static_cast<int>(one);
    entry->moments = std::move(all);
    keep_play(fmt::format("{}, {}", label_of(moment.kind), shot_name()), *entry, [] {});
    state_.moment = index;
    state_.hand = Hand::first_skate;
    state_.held.reset();
    state_.notice = {};
}

void LogBook::pick_moment(std::size_t index) {
    ShotEntry* entry = chosen();
    if (!entry || index >= entry->moments.size()) return;
    state_.moment = index;
    state_.hand = Hand::empty;
    state_.held.reset();
    state_.notice = {};
    const Moment& moment = entry->moments[index];
    if (state_.film && moment.film_id == state_.films[*state_.film].id) state_.jump = moment.frame;
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
    moment->kind = kind_after(moment->kind);
    keep_moment(fmt::format("this is the {}", label_of(moment->kind)));
}

/// Unknown, then says shot, then says pass, then unknown again.
void LogBook::turn_cue(std::size_t cue) {
    Moment* moment = in_hand();
    if (!moment || cue >= cue_facts().size()) return;
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
    std::erase_if(entry->moments, [&](const Moment& one) { return one.id == id; });
    keep_play("remove " + name, *entry, [&] { file_.remove_moment(id); });
    state_.moment.reset();
    state_.held.reset();
    state_.hand = Hand::empty;
    tell(fmt::format("Removed the {}. Ctrl Z brings it back.", name));
}

} // namespace ropeline
