#include "follow/mark_follower.h"

#include "film/film_reader.h"
#include "film/rgb.h"
#include "follow/picture_work.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <utility>

namespace ropeline {
namespace {

constexpr double looks_per_second = 15.0;

ImagePoint middle_of(const std::vector<ImagePoint>& all) {
    ImagePoint sum;
    for (const ImagePoint at : all)
        sum = {sum.x_px + at.x_px, sum.y_px + at.y_px};
    const auto count = static_cast<double>(all.size());
    return {sum.x_px / count, sum.y_px / count};
}

std::vector<ImagePoint> moved_to(const MarkedFigure& figure, IcePoint moved, const RinkFit& from,
                                 const RinkFit& to) {
    std::vector<ImagePoint> marks;
    for (const ImagePoint at : figure.at) {
        const auto ice = ice_at(from, at);
        const auto there = ice ? image_at(to, *ice + moved) : std::nullopt;
        if (!there) return {};
        marks.push_back(*there);
    }
    return marks;
}

std::optional<FollowedMarks> follow(const FollowJob& job, const std::stop_token& stop) {
    FilmReader film(job.film_path,
                    {.cache_bytes = std::size_t{64} << 20, .threads = 1, .kept_index = job.kept_index});
    std::vector<FigureFollower> followers;
    for (const MarkedFigure& figure : job.figures)
        followers.emplace_back(job.way.front().fit, middle_of(figure.at), figure.kind);
    for (const RinkOfFrame& step : job.way) {
        if (stop.stop_requested()) return std::nullopt;
        const RgbPicture picture = rgb_of(*film.picture(FrameIndex{step.frame}), film.facts());
        for (FigureFollower& follower : followers)
            follower.see(view_of(picture), step.fit);
    }
    FollowedMarks marks;
    for (std::size_t i = 0; i < followers.size(); ++i) {
        if (stop.stop_requested()) return std::nullopt;
        const auto followed = followers[i].followed();
        marks.push_back(followed && is_sure(*followed) ? moved_to(job.figures[i], followed->moved,
                                                                  job.way.front().fit, job.way.back().fit)
                                                       : std::vector<ImagePoint>{});
    }
    return marks;
}

} // namespace

std::vector<std::int64_t> way_between(std::int64_t from, std::int64_t to, double frames_per_second) {
    const auto step = std::max<std::int64_t>(1, std::lround(frames_per_second / looks_per_second));
    std::vector<std::int64_t> way;
    for (std::int64_t at = from; std::abs(to - at) > 0;
         at += to > at ? std::min(step, to - at) : -std::min(step, at - to))
        way.push_back(at);
    way.push_back(to);
    return way;
}

MarkFollower::MarkFollower(FollowJob job)
    : BackgroundWork(5, [job = std::move(job)](const WorkOnItsWay& way) { return follow(job, way.stop); }) {}

} // namespace ropeline
