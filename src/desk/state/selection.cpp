#include "desk/state/selection.h"

namespace ropeline {

void Selection::open_game(Id id) {
    *this = {};
    game_id_ = std::move(id);
}

void Selection::open_film(Id id) {
    film_id_ = std::move(id);
    fit_.reset();
    jump_.reset();
    jump_s_.reset();
    let_go();
}

void Selection::open_shot(Id id) {
    shot_id_ = std::move(id);
    open_moment({});
}

void Selection::open_moment(Id id) {
    moment_id_ = std::move(id);
    let_go();
}

void Selection::let_go() {
    held_.reset();
    hand_ = Hand::empty;
}

void Selection::begin_fit(FitDraft draft) {
    fit_ = std::move(draft);
    let_go();
}

void Selection::change_fit(FitDraft draft) {
    if (fit_) fit_ = std::move(draft);
}

void Selection::go_to_frame(std::int64_t frame) {
    jump_ = frame;
    jump_s_.reset();
}

void Selection::go_to_time(double film_s) {
    jump_s_ = film_s;
    jump_.reset();
}

std::optional<std::int64_t> Selection::take_jump() {
    return std::exchange(jump_, std::nullopt);
}

std::optional<double> Selection::take_jump_s() {
    return std::exchange(jump_s_, std::nullopt);
}

} // namespace ropeline
