#include "desk/state/selection.h"

namespace ropeline {

void Selection::open_game(Id id) {
    *this = {};
    game_id_ = std::move(id);
}

void Selection::open_film(Id id) {
    film_id_ = std::move(id);
    end_fit();
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
    take(Hand::empty);
}

void Selection::begin_fit(FitDraft draft) {
    end_fit();
    fit_ = std::move(draft);
    let_go();
}

void Selection::show_fit(FitDraft draft) {
    if (fit_) fit_ = std::move(draft);
}

void Selection::change_fit(FitDraft draft) {
    if (!fit_) return;
    fit_before_.push_back(*std::exchange(fit_, std::move(draft)));
    fit_after_.clear();
    dragged_.reset();
}

void Selection::drag_in_fit(FitDraft draft, std::size_t click) {
    if (dragged_ == click) return show_fit(std::move(draft));
    change_fit(std::move(draft));
    dragged_ = click;
}

bool Selection::step_fit_back() {
    if (!fit_ || fit_before_.empty()) return false;
    fit_after_.push_back(*std::exchange(fit_, std::move(fit_before_.back())));
    fit_before_.pop_back();
    dragged_.reset();
    return true;
}

bool Selection::step_fit_on() {
    if (!fit_ || fit_after_.empty()) return false;
    fit_before_.push_back(*std::exchange(fit_, std::move(fit_after_.back())));
    fit_after_.pop_back();
    dragged_.reset();
    return true;
}

void Selection::end_fit() {
    fit_.reset();
    fit_before_.clear();
    fit_after_.clear();
    dragged_.reset();
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
