#include "desk/state/seen_twice.h"

#include "season/play.h"
#include "sheet/ice_drawing.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

std::optional<double> sigma_m(const Moment& moment, MarkKind kind) {
    const Mark* mark = find_mark(moment, kind);
    if (!mark || !mark->sigma) return std::nullopt;
    return std::sqrt(mark->sigma->xx + mark->sigma->yy);
}

/// Of the goalie's place; between two skates as of the less sure one, since one fit carries both.
std::optional<double> goalie_sigma_m(const Moment& moment) {
    const auto left = sigma_m(moment, MarkKind::skate_left);
    const auto right = sigma_m(moment, MarkKind::skate_right);
    if (left && right) return std::max(*left, *right);
    return sigma_m(moment, MarkKind::goalie);
}

std::optional<IcePoint> puck_place(const Moment& moment) {
    const Mark* puck = find_mark(moment, MarkKind::puck);
    return puck ? puck->ice : std::nullopt;
}

void compare(std::vector<SeenTwice>& all, std::string_view what, const std::optional<IcePoint>& first,
             const std::optional<IcePoint>& second, std::optional<double> first_sigma_m,
             std::optional<double> second_sigma_m) {
    if (!first || !second) return;
    SeenTwice one{what, *first, *second, first_sigma_m, second_sigma_m, distance(*first, *second), {}};
    if (first_sigma_m && second_sigma_m)
        one.agree = one.apart_m <= 2.0 * std::hypot(*first_sigma_m, *second_sigma_m);
    all.push_back(one);
}

} // namespace

std::vector<SeenTwice> seen_twice(const Moment& first, const Moment& second) {
    std::vector<SeenTwice> all;
    compare(all, "goalie", goalie_place(first), goalie_place(second), goalie_sigma_m(first),
            goalie_sigma_m(second));
    compare(all, "puck", puck_place(first), puck_place(second), sigma_m(first, MarkKind::puck),
            sigma_m(second, MarkKind::puck));
    return all;
}

std::string agreement_words(const SeenTwice& seen) {
    if (!seen.agree) return {};
    return *seen.agree ? "the cameras agree" : "the cameras disagree: look at both fits and both marks";
}

BothViews both_views(const LogState& state) {
    const ShotEntry* entry = chosen_shot(state);
    const Moment* hand = moment_in_hand(state);
    if (!entry || !hand) return {};
    const auto found = std::ranges::find_if(entry->moments, [&](const Moment& one) {
        return is_step(*hand) ? one.same_as == hand->id : one.id == hand->same_as;
    });
    if (hand->id.empty() || found == entry->moments.end()) return {};
    return is_step(*hand) ? BothViews{hand, &*found} : BothViews{&*found, hand};
}

} // namespace ropeline
