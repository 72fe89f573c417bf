#include "follow/rink_finder.h"

#include "film/background.h"
#include "film/rgb.h"

#include <utility>

namespace ropeline {

RinkFinder::RinkFinder(PicturePtr picture, FilmFacts facts, std::vector<RinkFit> fits, RuleBookId rules)
    : thread_([this, picture = std::move(picture), facts = std::move(facts), fits = std::move(fits), rules] {
          work_in_background(9);
          try {
              const RgbPicture rgb = rgb_of(*picture, facts);
              const PictureView view{rgb.bytes.data(), rgb.width_px, rgb.height_px, 3 * rgb.width_px};
              auto found = find_rink(fits, rule_book(rules), view);
              const std::lock_guard lock(guard_);
              found_ = std::move(found);
          } catch (...) {
              const std::lock_guard lock(guard_);
              error_ = std::current_exception();
          }
          finished_ = true;
      }) {}

std::optional<FoundRink> RinkFinder::take() {
    const std::lock_guard lock(guard_);
    if (error_) std::rethrow_exception(std::exchange(error_, nullptr));
    return std::exchange(found_, std::nullopt);
}

} // namespace ropeline
