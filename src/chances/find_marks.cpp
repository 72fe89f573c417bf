#include "chances/find_marks.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>
#include <numeric>
#include <utility>

namespace ropeline {

namespace {

double quantile(std::vector<float> values, double share) {
    if (values.empty()) return 0.0;
    const auto at =
        values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

/// Stretches of looks for which it holds, gaps closed, short ones left out.
template <class Holds>
std::vector<Stretch> stretches(std::size_t count, const auto& time_of, const Holds& holds, double closed_s,
                               double least_s, double step_s) {
    std::vector<Stretch> found;
    for (std::size_t i = 0; i < count; ++i) {
        if (!holds(i)) continue;
        const double at = time_of(i);
        if (!found.empty() && at - found.back().last_s <= closed_s + step_s)
            found.back().last_s = at;
        else
            found.push_back({at, at});
    }
    std::erase_if(
        found, [&](const Stretch& stretch) { return stretch.last_s - stretch.first_s + step_s < least_s; });
    return found;
}

/// The middle one of those that lie from `near` to `far` looks away to either side.
double usual_around(std::span<const Looked> looks, std::size_t i, std::size_t near, std::size_t far,
                    float Looked::*what) {
    std::vector<float> values;
    for (std::size_t away = near; away <= far; ++away) {
        if (i >= away) values.push_back(looks[i - away].*what);
        if (i + away < looks.size()) values.push_back(looks[i + away].*what);
    }
    return quantile(std::move(values), 0.5);
}

} // namespace

// Another picture has much less of the one before than is usual about it, wherever the camera may have moved: in a quick
// pan all of them have little. A photographer's flash spoils a picture or two; what comes after it is like what came
// before.
std::vector<double> cuts_of(std::span<const Looked> looks) {
    constexpr double drop = 0.65, least_apart_s = 0.7, still_px = 30.0;
    const auto drops = [&](std::size_t i) {
        return i > 0 && looks[i].likeness < drop * usual_around(looks, i, 1, 5, &Looked::likeness);
    };
    const auto drops_over_four = [&](std::size_t i) {
        return looks[i].likeness_of_four < drop * usual_around(looks, i, 4, 10, &Looked::likeness_of_four);
    };
    std::vector<double> cuts;
    const auto add = [&](double at_s) {
        if (cuts.empty() || at_s - cuts.back() >= least_apart_s) cuts.push_back(at_s);
    };
    for (std::size_t i = 1; i < looks.size(); ++i) {
        if (drops(i) && drops(i - 1)) continue; // the flash or the cut of before
        if (drops(i)) {
            const std::size_t after = std::min(i + 3, looks.size() - 1);
            if (looks[after].likeness_of_four < drop * usual_around(looks, i, 1, 5, &Looked::likeness))
                add(looks[i].at_s);
        } else if (i >= 4 && looks[i].shift_of_four_px < still_px && drops_over_four(i) &&
                   !drops_over_four(i - 1) && !drops(i - 1) && !drops(i - 2) && !drops(i - 3)) {
            add(looks[i].at_s); // a dissolve: no step is large, and no move explains what they make together
        }
    }
    return cuts;
}

namespace {

constexpr float seen = 0.4F;       ///< score of a net that is
constexpr double followed_s = 2.0; ///< a net is believed in so long without being seen

/// Seen by most of the looks about it: one alone may be anything.
bool is_confirmed(std::span<const Looked> looks, std::size_t i) {
    constexpr std::size_t around = 2;
    const std::size_t first = i - std::min(i, around), last = std::min(i + around, looks.size() - 1);
    const auto there = std::ranges::count_if(looks.subspan(first, last - first + 1),
                                             [](const Looked& look) { return look.net > seen; });
    return looks[i].net > seen && 2 * there > static_cast<std::ptrdiff_t>(last - first);
}

/// One way through the film: 1 forward, -1 back.
void follow(std::vector<std::optional<NetPlace>>& places, std::span<const Looked> looks,
            const std::vector<bool>& confirmed, const std::vector<bool>& cut_here, int way) {
    const auto count = static_cast<std::int64_t>(looks.size());
    std::optional<NetPlace> net;
    double seen_s = 0.0;
    for (std::int64_t k = way > 0 ? 0 : count - 1; k >= 0 && k < count; k += way) {
        const auto i = static_cast<std::size_t>(k);
        // The move into a look belongs to it; going back it is undone on leaving the later one.
        const std::size_t moved = way > 0 ? i : std::min(i + 1, looks.size() - 1);
        const bool gap = moved > 0 && looks[moved].at_s - looks[moved - 1].at_s > gap_s;
        if (cut_here[moved] || gap) net.reset();
        if (net) {
            net->x += way * static_cast<double>(looks[moved].dx);
            net->y += way * static_cast<double>(looks[moved].dy);
        }
        if (confirmed[i]) {
            net = NetPlace{looks[i].net_x, looks[i].net_y};
            seen_s = looks[i].at_s;
        }
        if (net && (std::abs(net->x) > 1.0 || std::abs(net->y) > 1.0 ||
                    std::abs(looks[i].at_s - seen_s) > followed_s))
            net.reset();
        if (net && (!places[i] || confirmed[i])) places[i] = net;
    }
}

} // namespace

std::vector<std::optional<NetPlace>> nets_along(std::span<const Looked> looks,
                                                std::span<const double> cuts_s) {
    std::vector<bool> confirmed(looks.size()), cut_here(looks.size());
    std::size_t cut = 0;
    for (std::size_t i = 0; i < looks.size(); ++i) {
        confirmed[i] = is_confirmed(looks, i);
        while (cut < cuts_s.size() && cuts_s[cut] < looks[i].at_s - 1e-6)
            ++cut;
        cut_here[i] = cut < cuts_s.size() && cuts_s[cut] < looks[i].at_s + 1e-6;
    }
    std::vector<std::optional<NetPlace>> places(looks.size());
    follow(places, looks, confirmed, cut_here, 1);
    follow(places, looks, confirmed, cut_here, -1);
    return places;
}

std::vector<Stretch> nets_of(std::span<const Looked> looks, std::span<const double> cuts_s) {
    const auto places = nets_along(looks, cuts_s);
    const std::vector<Stretch> whole = stretches(
        looks.size(), [&](std::size_t i) { return looks[i].at_s; },
        [&](std::size_t i) { return places[i].has_value(); }, 1.0, 1.0, look_step_s);
    std::vector<Stretch> parts;
    for (const Stretch& stretch : whole) {
        double from = stretch.first_s;
        for (const double cut : cuts_s) {
            if (cut <= from + look_step_s || cut >= stretch.last_s) continue;
            parts.push_back({from, cut - look_step_s});
            from = cut;
        }
        parts.push_back({from, stretch.last_s});
    }
    return parts;
}

// Waiting for a face-off: less than a third of what usually changes in this film's picture.
std::vector<Stretch> still_of(std::span<const Looked> looks) {
    std::vector<float> all;
    for (const Looked& look : looks)
        all.push_back(look.still);
    const double usual = quantile(std::move(all), 0.5);
    return stretches(
        looks.size(), [&](std::size_t i) { return looks[i].at_s; },
        [&](std::size_t i) { return looks[i].still < usual / 3.0; }, 0.5, 2.0, look_step_s);
}

// A referee's whistle: a tone that has most of what is heard about it, keeps its pitch and lasts.
std::vector<Stretch> whistles_of(std::span<const Heard> heard, double from_s) {
    constexpr float most = 0.5F;
    constexpr double same_pitch = 0.06, least_s = 0.25;
    const auto holds = [&](std::size_t i) { return heard[i].tone > most && !heard[i].overtone; };
    const auto time_of = [&](std::size_t i) { return from_s + hearing_step_s * static_cast<double>(i); };
    std::vector<Stretch> found = stretches(heard.size(), time_of, holds, 0.05, least_s, hearing_step_s);
    std::erase_if(found, [&](const Stretch& stretch) { // whistles of the crowd glide up and down
        const auto at = [&](double s) {
            return static_cast<std::size_t>(std::lround((s - from_s) / hearing_step_s));
        };
        std::vector<float> hz;
        for (std::size_t i = at(stretch.first_s); i <= at(stretch.last_s); ++i) {
            if (holds(i)) hz.push_back(heard[i].tone_hz);
        }
        const double middle = quantile(hz, 0.5);
        return quantile(hz, 0.9) - quantile(hz, 0.1) > same_pitch * middle;
    });
    return found;
}

namespace {

/// Loudness in tenths of a second, and what is usual around: the median of half a minute to either side.
struct Loudness {
    static constexpr std::size_t steps = 4; ///< of hearing in one of these
    std::vector<float> db, usual;

    explicit Loudness(std::span<const Heard> heard) {
        for (std::size_t i = 0; i + steps <= heard.size(); i += steps) {
            float sum = 0.0F;
            for (const Heard& one : heard.subspan(i, steps))
                sum += one.loud_db;
            db.push_back(sum / steps);
        }
        constexpr std::size_t around = 300, stride = 50;
        for (std::size_t i = 0; i < db.size(); i += stride) {
            const std::size_t first = i - std::min(i, around), last = std::min(i + around, db.size());
            const double middle = quantile({db.begin() + static_cast<std::ptrdiff_t>(first),
                                            db.begin() + static_cast<std::ptrdiff_t>(last)},
                                           0.5);
            usual.insert(usual.end(), std::min(stride, db.size() - i), static_cast<float>(middle));
        }
    }
    double above(double at_s) const { ///< usual, in dB; `at_s` from where the hearing began
        const auto i = static_cast<std::int64_t>(at_s / (steps * hearing_step_s));
        if (i < 0 || i >= static_cast<std::int64_t>(db.size())) return 0.0;
        return db[static_cast<std::size_t>(i)] - usual[static_cast<std::size_t>(i)];
    }
};

constexpr double loud_db = 5.0; ///< above what is usual: a crowd that rises

} // namespace

std::vector<Stretch> loud_of(std::span<const Heard> heard, double from_s) {
    const Loudness loudness(heard);
    constexpr double step_s = Loudness::steps * hearing_step_s;
    return stretches(
        loudness.db.size(), [&](std::size_t i) { return from_s + step_s * static_cast<double>(i); },
        [&](std::size_t i) { return loudness.db[i] - loudness.usual[i] > loud_db; }, 0.5, 0.5, step_s);
}

namespace {

/// Play stands longer than this, even where a face-off follows at once (common practice, no source).
constexpr double stoppage_s = 14.0;

/// The mean of some looks around each, of those that have a value.
std::vector<double> smoothed_stir(std::span<const Looked> looks) {
    constexpr std::size_t around = 2;
    std::vector<double> means(looks.size());
    for (std::size_t i = 0; i < looks.size(); ++i) {
        double sum = 0.0;
        int count = 0;
        for (std::size_t k = i - std::min(i, around); k <= std::min(i + around, looks.size() - 1); ++k) {
            if (looks[k].stir <= 0.0F) continue;
            sum += looks[k].stir;
            ++count;
        }
        means[i] = count > 0 ? sum / count : 0.0;
    }
    return means;
}

/// How much speaks for a chance at each look.
std::vector<double> scores_of(std::span<const Looked> looks, const FilmMarks& marks,
                              std::span<const Heard> heard, double heard_from_s) {
    const Loudness loudness(heard);
    const std::vector<double> stir = smoothed_stir(looks);
    const auto nets = nets_along(looks, marks.cuts_s);
    std::vector<float> stirs;
    for (const double one : stir) {
        if (one > 0.0) stirs.push_back(static_cast<float>(one));
    }
    const double usual_stir = std::max(0.5, quantile(stirs, 0.5));
    const double much_stir = std::max(1.5 * usual_stir, quantile(stirs, 0.95));
    std::vector<double> scores(looks.size());
    std::size_t whistle = 0;
    for (std::size_t i = 0; i < looks.size(); ++i) {
        const double at = looks[i].at_s;
        while (whistle < marks.whistles.size() && marks.whistles[whistle].first_s < at)
            ++whistle;
        if (!nets[i]) continue;
        const double stirred = std::clamp((stir[i] - usual_stir) / (much_stir - usual_stir), 0.0, 1.0);
        // Play stops a second or two after the goalie has it.
        const double to_whistle =
            whistle < marks.whistles.size() ? marks.whistles[whistle].first_s - at : 1e9;
        const double ended = std::exp(-0.5 * std::pow((to_whistle - 1.7) / 1.2, 2.0));
        // From the whistle to the face-off nothing is played: what is seen then is seen again, or from elsewhere.
        const bool stopped = whistle > 0 && at > marks.whistles[whistle - 1].first_s + 0.7 &&
                             at < marks.whistles[whistle - 1].first_s + stoppage_s;
        if (stopped) continue;
        double rise = 0.0;
        for (const double after : {0.3, 0.8, 1.3})
            rise = std::max(rise, loudness.above(at - heard_from_s + after) / (2.0 * loud_db));
        const double aside = std::min(1.0, std::hypot(nets[i]->x, nets[i]->y));
        // Whoever films follows the puck: the nearer it is to the net, the nearer is the net to the picture's middle.
        scores[i] =
            0.1 + 0.3 * stirred + 0.3 * (1.0 - aside) + 0.2 * ended + 0.1 * std::clamp(rise, 0.0, 1.0);
    }
    return scores;
}

} // namespace

FilmMarks marks_of(std::span<const Looked> looks, std::span<const Heard> heard, double heard_from_s) {
    FilmMarks marks;
    marks.cuts_s = cuts_of(looks);
    marks.net_in_view = nets_of(looks, marks.cuts_s);
    marks.still = still_of(looks);
    marks.whistles = whistles_of(heard, heard_from_s);
    marks.loud = loud_of(heard, heard_from_s);
    const std::vector<double> scores = scores_of(looks, marks, heard, heard_from_s);
    // The highest first; the next one not within so much of it.
    constexpr double apart_s = 4.0, least = 0.3;
    std::vector<std::size_t> order(scores.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, std::greater{}, [&](std::size_t i) { return scores[i]; });
    for (const std::size_t i : order) {
        if (scores[i] < least) break;
        const double at = looks[i].at_s;
        if (std::ranges::any_of(marks.chances,
                                [&](const LikelyChance& one) { return std::abs(one.at_s - at) < apart_s; }))
            continue;
        marks.chances.push_back({at, std::min(1.0, scores[i])});
    }
    std::ranges::sort(marks.chances, {}, &LikelyChance::at_s);
    return marks;
}

} // namespace ropeline
