// What is worked out from one picture of a film, on a thread of its own.
#pragma once

#include "camera/picture_view.h"
#include "film/background_work.h"
#include "film/film_facts.h"
#include "film/picture.h"
#include "film/rgb.h"

#include <functional>
#include <optional>
#include <stop_token>
#include <utility>

namespace ropeline {

inline PictureView view_of(const RgbPicture& picture) {
    return {picture.bytes.data(), picture.width_px, picture.height_px, 3 * picture.width_px};
}

/// Its result is nothing where the picture does not say it clearly, or when it was stopped.
template <class Result>
class PictureWork : public BackgroundWork<Result> {
public:
    using Work = std::function<std::optional<Result>(const PictureView&, const std::stop_token&)>;

    /// In      how far the thread gives way to the window, see film/background.h.
    PictureWork(PicturePtr picture, FilmFacts facts, int niceness, Work work)
        : BackgroundWork<Result>(niceness, [picture = std::move(picture), facts = std::move(facts),
                                            work = std::move(work)](const WorkOnItsWay& way) {
              const RgbPicture rgb = rgb_of(*picture, facts);
              return work(view_of(rgb), way.stop);
          }) {}
};

} // namespace ropeline
