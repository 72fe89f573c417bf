#include "desk/state/ghosts.h"

#include "desk/state/frame_at.h"
#include "desk/state/rink_here.h"
#include "season/play.h"

#include <algorithm>
#include <cstdlib>
#include <iterator>
#include <utility>

namespace ropeline {

namespace {

bool is_goalie(MarkKind kind) {
    return kind == MarkKind::goalie || kind == MarkKind::skate_left || kind == MarkKind::skate_right;
}

/// The nearer of two moments to this frame.
const Moment* nearer(const Moment* one, const Moment& other, std::int64_t frame) {
    if (!one) return &other;
    return std::abs(other.frame - frame) < std::abs(one->frame - frame) ? &other : one;
}

const Moment* moment_before(const LogState& state, const Moment& in_hand, std::int64_t frame) {
    if (!is_step(in_hand)) { // what the first camera saw
        const auto& moments = chosen_shot(state)->moments;
        const auto first = std::ranges::find(moments, in_hand.same_as, &Moment::id);
        return first == moments.end() ? nullptr : &*first;
    }
    const Moment* of_the_play = nullptr;
    const Moment* of_the_film = nullptr;
    for (const ShotEntry& entry : state.shots) {
        for (const Moment& moment : entry.moments) {
            if (&moment == &in_hand || moment.marks.empty() || moment.film_id != in_hand.film_id) continue;
            if (moment.shot_id == in_hand.shot_id) {
                of_the_play = nearer(of_the_play, moment, frame);
            } else if (moment.frame <= frame) {
                of_the_film = nearer(of_the_film, moment, frame);
            }
        }
    }
    return of_the_play ? of_the_play : of_the_film;
}

std::optional<ImagePoint> carried(const Mark& mark, const FitHere& here, bool same_film) {
    if (mark.ice && here.fit) return image_at(*here.fit, *mark.ice);
    return same_film ? mark.at : std::nullopt;
}

} // namespace

const Moment* ghosts_from(const LogState& state, std::int64_t frame) {
    const Moment* in_hand = moment_in_hand(state);
    if (!in_hand || state.selection.fit() || in_hand->film_id != open_film(state)) return nullptr;
    if (in_hand->frame != frame && !in_hand->marks.empty()) return nullptr;
    return moment_before(state, *in_hand, frame);
}

bool still_holds(const FollowedTo& followed, const Moment& moment, std::int64_t frame) {
    const auto places = [](const Moment& of) {
        std::vector<std::pair<MarkKind, std::optional<ImagePoint>>> all;
        for (const Mark& mark : of.marks)
            all.emplace_back(mark.kind, mark.at);
        return all;
    };
    return followed.from.id == moment.id && followed.from.frame == moment.frame && followed.frame == frame &&
           places(followed.from) == places(moment);
}

std::vector<Ghost> ghosts(const LogState& state, std::int64_t frame, ImageSize image) {
    const Moment* before = ghosts_from(state, frame);
    if (!before) return {};
    const Moment* in_hand = moment_in_hand(state);
    const bool followed = state.followed && still_holds(*state.followed, *before, frame);
    Moment laid_here = *in_hand;
    laid_here.frame = frame;
    const FitHere here = fit_for(state, chosen_shot(state)->shot, laid_here);
    const auto count = [](const Moment& moment, auto&& of_kind) {
        return std::ranges::count_if(moment.marks, [&](const Mark& mark) { return of_kind(mark.kind); });
    };
    const bool has_goalie = count(*in_hand, is_goalie) > 0;
    const bool has_puck = find_mark(*in_hand, MarkKind::puck) != nullptr;
    auto threats_there = count(*in_hand, [](MarkKind kind) { return kind == MarkKind::threat; });
    std::vector<Ghost> all;
    for (const Mark& mark : before->marks) {
        if (is_goalie(mark.kind) && has_goalie) continue;
        if (mark.kind == MarkKind::puck && has_puck) continue;
        if (mark.kind == MarkKind::threat && threats_there-- > 0) continue;
        const auto number = static_cast<std::size_t>(&mark - before->marks.data());
        const auto surely = followed ? state.followed->at.at(number) : std::nullopt;
        const auto at = surely ? surely : carried(mark, here, before->film_id == in_hand->film_id);
        if (at && in_picture(*at, image)) all.push_back({mark.kind, *at, mark.receiver, mark.lane});
    }
    return all;
}

std::vector<Ghost> ghosts_asked_for(const std::vector<Ghost>& all, Hand hand) {
    std::vector<Ghost> asked;
    std::ranges::copy_if(all, std::back_inserter(asked), [&](const Ghost& ghost) {
        switch (hand) {
        case Hand::empty:
            return true;
        case Hand::first_skate:
        case Hand::second_skate:
        case Hand::goalie:
            return is_goalie(ghost.kind);
        case Hand::puck:
            return ghost.kind == MarkKind::puck;
        case Hand::threat:
            return ghost.kind == MarkKind::threat;
        case Hand::landmark:
            return false;
        }
        return false;
    });
    return asked;
}

} // namespace ropeline
