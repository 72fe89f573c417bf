// What is open on the desk, and what the hand holds of it: game, film, shot, moment, mark; a rink fit in the
// making; where the film is to go. Each rests on the one before, so changing one lets go of whatever has lost its
// anchor. Kept by id, so that a reload changes nothing that still exists.
#pragma once

#include "desk/state/fit_draft.h"
#include "season/records.h"

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

namespace ropeline {

/// What the next click on the film places.
enum class Hand { empty, first_skate, second_skate, goalie, puck, threat, landmark };

/// A mark that the arrow keys nudge.
struct HeldMark {
    Id moment_id;
    std::size_t mark = 0; ///< among the moment's marks
};

class Selection {
public:
    // Empty ids: none. How to get at the records: chosen_game() and the like in log_state.h.
    const Id& game_id() const { return game_id_; }
    const Id& film_id() const { return film_id_; }
    const Id& shot_id() const { return shot_id_; }
    const Id& moment_id() const { return moment_id_; } ///< of the shot; empty: its main one
    const std::optional<HeldMark>& held() const { return held_; }
    Hand hand() const { return fit_ ? Hand::landmark : hand_; }
    /// The hand asks for nothing that the coach has not gone on from.
    bool settled() const { return !fit_ && (hand_ == Hand::empty || went_on_); }
    const FitDraft* fit() const { return fit_ ? &*fit_ : nullptr; } ///< null unless the rink is being fitted
    std::optional<std::int64_t> jump() const { return jump_; }      ///< frame the film should go to
    std::optional<double> jump_s() const { return jump_s_; }        ///< the same as a film time

    void open_game(Id id); ///< lets go of everything else
    void open_film(Id id); ///< lets go of fit, mark, hand and jump; the shot stays open: it may be seen twice
    void open_shot(Id id); ///< lets go of moment, mark and hand
    void open_moment(Id id); ///< lets go of mark and hand
    void take(Hand hand) {
        hand_ = hand;
        went_on_ = false;
    }
    /// To the card, though an opponent may still be clicked.
    void go_on() { went_on_ = hand_ == Hand::threat; }
    void hold(Id moment_id, std::size_t mark) { held_ = HeldMark{std::move(moment_id), mark}; }
    void let_go_of_mark() { held_.reset(); }
    void let_go(); ///< of mark and hand

    void begin_fit(FitDraft draft);  ///< lets go of mark and hand
    void show_fit(FitDraft draft);   ///< what is offered changes, no click
    void change_fit(FitDraft draft); ///< a step that can be taken back
    /// The same; further drags of that click in a row are one step.
    void drag_in_fit(FitDraft draft, std::size_t click);
    bool step_fit_back(); ///< false: there is no step to take back
    bool step_fit_on();
    void end_fit();

    void go_to_frame(std::int64_t frame);
    void go_to_time(double film_s);
    std::optional<std::int64_t> take_jump();
    std::optional<double> take_jump_s();

private:
    Id game_id_, film_id_, shot_id_, moment_id_;
    std::optional<HeldMark> held_;
    Hand hand_ = Hand::empty;
    bool went_on_ = false; ///< from an opponent that was asked for once
    std::optional<FitDraft> fit_;
    std::vector<FitDraft> fit_before_, fit_after_; ///< the latest step last
    std::optional<std::size_t> dragged_;           ///< the click that the latest step dragged
    std::optional<std::int64_t> jump_;
    std::optional<double> jump_s_;
};

} // namespace ropeline
