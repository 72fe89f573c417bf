#include "chances/joined_marks.h"

#include "rink/landmarks.h"

#include <algorithm>
#include <array>
#include <iterator>

namespace ropeline {

namespace {

double begin_of(double at_s) {
    return at_s;
}
double begin_of(const Stretch& stretch) {
    return stretch.first_s;
}
double begin_of(const LikelyChance& chance) {
    return chance.at_s;
}

template <class Mark>
std::vector<Mark> joined(const std::vector<Mark>& before, const std::vector<Mark>& after, double at_s) {
    std::vector<Mark> all;
    std::ranges::copy_if(before, std::back_inserter(all),
                         [&](const Mark& one) { return begin_of(one) < at_s; });
    std::ranges::copy_if(after, std::back_inserter(all),
                         [&](const Mark& one) { return begin_of(one) >= at_s; });
    return all;
}

/// A stretch over the seam stands in both parts: it ends where the later part says.
std::vector<Stretch> joined_stretches(const std::vector<Stretch>& before, const std::vector<Stretch>& after,
                                      double at_s) {
    std::vector<Stretch> all = joined(before, after, at_s);
    const auto over = std::ranges::find_if(
        after, [&](const Stretch& one) { return one.first_s < at_s && one.last_s > at_s; });
    if (over == after.end()) return all;
    const auto first_after =
        std::ranges::find_if(all, [&](const Stretch& one) { return one.first_s >= at_s; });
    if (first_after != all.begin() && std::prev(first_after)->last_s > over->first_s)
        std::prev(first_after)->last_s = std::max(std::prev(first_after)->last_s, over->last_s);
    else
        all.insert(first_after, *over);
    return all;
}

} // namespace

FilmMarks joined(const FilmMarks& before, const FilmMarks& after, double at_s) {
    FilmMarks all = after;
    all.cuts_s = joined(before.cuts_s, after.cuts_s, at_s);
    all.net_in_view = joined_stretches(before.net_in_view, after.net_in_view, at_s);
    all.whistles = joined_stretches(before.whistles, after.whistles, at_s);
    all.loud = joined_stretches(before.loud, after.loud, at_s);
    all.still = joined_stretches(before.still, after.still, at_s);
    all.chances = joined(before.chances, after.chances, at_s);
    return all;
}

FilmMarks cut_at(FilmMarks marks, double until_s) {
    marks.until_s = until_s;
    std::erase_if(marks.cuts_s, [&](double at) { return at > until_s; });
    std::erase_if(marks.chances, [&](const LikelyChance& one) { return one.at_s > until_s; });
    for (auto* stretches : {&marks.net_in_view, &marks.whistles, &marks.loud, &marks.still}) {
        std::erase_if(*stretches, [&](const Stretch& one) { return one.first_s >= until_s; });
        for (Stretch& one : *stretches)
            one.last_s = std::min(one.last_s, until_s);
    }
    return marks;
}

FilmMarks with_known_rink(FilmMarks marks, std::span<const RinkKnown> known) {
    for (const RinkKnown& one : known) {
        std::vector<Stretch> kept;
        for (const Stretch& net : marks.net_in_view) {
            const Stretch before{net.first_s, std::min(net.last_s, one.when.first_s)};
            const Stretch after{std::max(net.first_s, one.when.last_s), net.last_s};
            if (net.last_s < one.when.first_s || net.first_s > one.when.last_s) {
                kept.push_back(net);
                continue;
            }
            if (before.last_s > before.first_s) kept.push_back(before);
            if (after.last_s > after.first_s) kept.push_back(after);
        }
        if (one.net) {
            kept.push_back(one.when);
        } else {
            std::erase_if(marks.chances,
                          [&](const LikelyChance& chance) { return one.when.has(chance.at_s); });
        }
        marks.net_in_view = std::move(kept);
    }
    std::ranges::sort(marks.net_in_view, {}, &Stretch::first_s);
    return marks;
}

bool net_in_picture(const RinkFit& fit, const RuleBook& rules) {
    const IcePoint mouth{0.0, 0.0};
    for (const IcePoint& middle : std::array{mouth, from_other_end(rules, mouth)}) {
        const auto at = image_at(fit, middle);
        if (at && at->x_px > 0.0 && at->y_px > 0.0 && at->x_px < fit.image.width_px &&
            at->y_px < fit.image.height_px)
            return true;
    }
    return false;
}

namespace {

constexpr double here_s = 0.5; ///< nearer than this the film stands there

} // namespace

std::optional<double> next_chance_s(const FilmMarks& marks, double now_s) {
    for (const LikelyChance& chance : marks.chances) {
        if (chance.at_s - before_chance_s > now_s + here_s) return chance.at_s - before_chance_s;
    }
    return std::nullopt;
}

std::optional<double> chance_before_s(const FilmMarks& marks, double now_s) {
    std::optional<double> found;
    for (const LikelyChance& chance : marks.chances) {
        if (chance.at_s - before_chance_s < now_s - here_s) found = chance.at_s - before_chance_s;
    }
    return found;
}

} // namespace ropeline
