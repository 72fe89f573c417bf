#include "desk/state/fit_proposer.h"

#include "camera/propose_fit.h"
#include "film/background.h"
#include "film/rgb.h"

#include <utility>

namespace ropeline {

FitProposer::FitProposer(PicturePtr picture, FilmFacts facts, RuleBookId rules) {
    thread_ = std::jthread([this, picture = std::move(picture), facts = std::move(facts),
                            rules](const std::stop_token& stop) {
        work_in_background(9);
        try {
            const RgbPicture rgb = rgb_of(*picture, facts);
            const auto found = propose_fit({rgb.bytes.data(), rgb.width_px, rgb.height_px, 3 * rgb.width_px},
                                           rule_book(rules), stop);
            const std::lock_guard lock(guard_);
            if (found) fit_ = found->fit;
        } catch (...) {
            const std::lock_guard lock(guard_);
            error_ = std::current_exception();
        }
        finished_ = true;
    });
}

std::optional<RinkFit> FitProposer::take() {
    const std::lock_guard lock(guard_);
    return std::exchange(fit_, std::nullopt);
}

std::exception_ptr FitProposer::error() const {
    const std::lock_guard lock(guard_);
    return error_;
}

} // namespace ropeline
