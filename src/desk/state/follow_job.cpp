#include "desk/state/follow_job.h"

#include "desk/state/ghosts.h"
#include "desk/state/rink_here.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace ropeline {
namespace {

constexpr double longest_unknown_s = 0.25; // of the rink, on the way

/// The marks that are one figure each, by their numbers: a goalie's skates are one.
std::vector<std::vector<std::size_t>> figures_of(const Moment& moment) {
    std::vector<std::vector<std::size_t>> figures;
    std::optional<std::size_t> skates;
    for (std::size_t number = 0; number < moment.marks.size(); ++number) {
        const Mark& mark = moment.marks[number];
        if (!mark.at) continue;
        const bool skate = mark.kind == MarkKind::skate_left || mark.kind == MarkKind::skate_right;
        if (skate && skates) {
            figures[*skates].push_back(number);
        } else {
            if (skate) skates = figures.size();
            figures.push_back({number});
        }
    }
    return figures;
}

FigureKind kind_of(MarkKind kind) {
    switch (kind) {
    case MarkKind::goalie:
    case MarkKind::skate_left:
    case MarkKind::skate_right:
        return FigureKind::goalie;
    case MarkKind::puck:
        return FigureKind::puck;
    case MarkKind::threat:
    case MarkKind::landmark:
        return FigureKind::skater;
    }
    return FigureKind::skater;
}

std::optional<std::vector<RinkOfFrame>> known_way(const LogState& state, std::int64_t from, std::int64_t to,
                                                  double frames_per_second) {
    std::vector<RinkOfFrame> way;
    for (const std::int64_t frame : way_between(from, to, frames_per_second)) {
        const FitHere here = fit_here(state, frame);
        if (here.fit) {
            way.push_back({frame, *here.fit});
        } else if (way.empty() || frame == to ||
                   static_cast<double>(std::abs(frame - way.back().frame)) >
                       longest_unknown_s * frames_per_second) {
            return std::nullopt;
        }
    }
    return way;
}

} // namespace

std::optional<FollowJob> follow_job(const LogState& state, std::int64_t frame, double frames_per_second) {
    const Moment* from = ghosts_from(state, frame);
    if (!from || from->film_id != open_film(state) || from->frame == frame) return std::nullopt;
    if (static_cast<double>(std::abs(from->frame - frame)) > furthest_followed_s * frames_per_second)
        return std::nullopt;
    auto way = known_way(state, from->frame, frame, frames_per_second);
    if (!way) return std::nullopt;
    FollowJob job;
    job.way = std::move(*way);
    for (const auto& numbers : figures_of(*from)) {
        MarkedFigure figure{kind_of(from->marks[numbers.front()].kind), {}};
        for (const std::size_t number : numbers)
            figure.at.push_back(*from->marks[number].at);
        job.figures.push_back(std::move(figure));
    }
    if (job.figures.empty()) return std::nullopt;
    return job;
}

FollowedTo followed_to(const Moment& from, std::int64_t frame, const FollowedMarks& marks) {
    FollowedTo to{from, frame, std::vector<std::optional<ImagePoint>>(from.marks.size())};
    const auto figures = figures_of(from);
    for (std::size_t figure = 0; figure < std::min(figures.size(), marks.size()); ++figure) {
        for (std::size_t i = 0; i < std::min(figures[figure].size(), marks[figure].size()); ++i)
            to.at[figures[figure][i]] = marks[figure][i];
    }
    return to;
}

} // namespace ropeline
