#include "desk/follow_marks.h"

#include "desk/state/follow_job.h"
#include "desk/state/ghosts.h"

#include <exception>
#include <memory>
#include <utility>

namespace ropeline {
namespace {

void offer_followed(App& app) {
    MarkFollowing& following = app.stage.following;
    const std::unique_ptr<MarkFollower> work = std::exchange(following.work, nullptr);
    try {
        if (const auto marks = work->take())
            app.log.book->apply(OfferFollowed{followed_to(following.from, following.frame, *marks)},
                                frame_at(app.stage));
    } catch (const std::exception&) {
        // A film that cannot be read tells so where it is shown; the faint marks stay where they were.
    }
}

} // namespace

bool follow_marks(App& app) {
    FilmStage& stage = app.stage;
    MarkFollowing& following = stage.following;
    const LogState& log = app.log.state();
    const std::int64_t frame = number(stage.player.frame);
    const Moment* from = stage.player.playing ? nullptr : ghosts_from(log, frame);
    const bool asked = from && still_holds({following.from, following.frame, {}}, *from, frame);
    if (following.work) {
        if (!asked) following.work->stop();
        if (!following.work->finished()) return true;
        offer_followed(app);
        return true;
    }
    if (!from || stage.on_screen != stage.player.frame) return false;
    const std::size_t known = log.carries.size() + log.fits.size();
    if (asked && (following.begun || following.known_at == known)) return false;
    auto job = follow_job(log, frame, stage.film->facts()->average_rate_hz);
    following = {*from, frame, known, job.has_value(), nullptr};
    if (!job) return false;
    job->film_path = stage.path;
    job->kept_index = stage.film->index_to_keep();
    following.work = std::make_unique<MarkFollower>(std::move(*job));
    return true;
}

} // namespace ropeline
