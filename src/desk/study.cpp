// Study in the window: the film runs up to the moment and stops, the goalie answers, the answer is kept, the play runs on.
#include "desk/app.h"
#include "desk/state/loop_span.h"
#include "season/dates.h"
#include "season/own_figures.h"
#include "season/trimmed.h"

#include <fmt/core.h>

#include <algorithm>
#include <string>

namespace ropeline {

namespace {

void apply(App& app, const LogAction& action) {
    app.log.book->apply(action, frame_at(app.stage));
}

const StudyDecision* decision_of(const StudyPart& study, const Id& moment_id) {
    const auto found = std::ranges::find(study.decisions, moment_id, &StudyDecision::moment_id);
    return found == study.decisions.end() ? nullptr : &*found;
}

/// Its shot and the moment that is studied, each with its film. False when one is not there.
bool open_decision(App& app, const StudyDecision& decision) {
    if (!open_shot(app, decision.game_id, decision.shot_id)) return false;
    const ShotEntry* entry = chosen_shot(app.log.state());
    if (!entry) return false;
    const auto studied = std::ranges::find(entry->moments, decision.moment_id, &Moment::id);
    if (studied == entry->moments.end()) return false;
    apply(app, PickMoment{static_cast<std::size_t>(studied - entry->moments.begin())});
    open_chosen_film(app);
    return true;
}

/// What the film showed before must not be seen nor heard on: it may be what came.
void clear_picture(FilmStage& stage) {
    stage.sound.stop();
    stage.player = held(stage.player);
    stage.player.loop.reset();
    stage.player.tempo = 0;
    stage.on_screen.reset();
    stage.texture.clear();
}

void begin_decision(App& app, const Id& moment_id) {
    StudyPart& study = app.study;
    study.turn.reset();
    const StudyDecision* found = decision_of(study, moment_id);
    if (!found) return;
    const StudyDecision decision = *found;
    clear_picture(app.stage);
    if (!open_decision(app, decision)) return;
    const Moment* moment = moment_in_hand(app.log.state());
    if (!moment) return;
    StudyTurn turn;
    turn.shot_id = decision.shot_id;
    turn.moment_id = moment->id;
    turn.goalie_id = decision.goalie_id;
    turn.frame = moment->frame;
    turn.film_id = moment->film_id;
    turn.on_film = decision.on_film && moment->film_id == open_film(app.log.state());
    if (!turn.on_film) turn.phase = StudyPhase::call;
    study.turn = turn;
    study.running = false;
    study.sum_page = false;
    app.log.tried.reset();
}

bool says_who_answers(App& app) {
    if (!app.settings.answers_as.empty()) return true;
    tell(app, "Say who answers first: choose or type a name at the head of the page.", true);
    return false;
}

} // namespace

void begin_round(App& app, const Id& moment_id) {
    if (!says_who_answers(app)) return;
    StudyPart& study = app.study;
    study.round.clear();
    for (const StudyDecision& decision : study.queue.decisions)
        study.round.push_back(decision.moment_id);
    begin_decision(app, moment_id);
}

void begin_first(App& app) {
    const auto& decisions = app.study.queue.decisions;
    if (decisions.empty()) return tell(app, "This list is empty: choose another one by its number.", false);
    begin_round(app, decisions.front().moment_id);
}

void go_to_decision(App& app, int steps) {
    StudyPart& study = app.study;
    if (!study.turn) return;
    const auto here = std::ranges::find(study.round, study.turn->moment_id);
    if (here == study.round.end()) return show_sitting(app);
    const auto wanted = (here - study.round.begin()) + steps;
    if (wanted < 0) return;
    if (wanted >= std::ssize(study.round)) return show_sitting(app);
    const Id next = study.round[static_cast<std::size_t>(wanted)];
    begin_decision(app, next);
}

void leave_study(App& app) {
    app.study.turn.reset();
    app.study.running = false;
    clear_picture(app.stage);
}

void show_sitting(App& app) {
    leave_study(app);
    app.study.sum_page = true;
}

void say_who_answers(App& app, const std::string& name) {
    constexpr std::size_t longest = 200;
    std::string said{trimmed(name)};
    if (said.empty()) return;
    if (said.size() > longest) return tell(app, "A name has at most 200 letters: shorten it.", true);
    app.settings.answers_as = std::move(said);
    if (app.log.book && app.log.state().notice.trouble) tell(app, "", false); // that nobody had been named
    app.study.typed_name.clear();
    app.study.settled = false;
    save_settings(settings_path(), app.settings);
}

namespace {

bool is_at_stop(const App& app) {
    const StudyTurn& turn = *app.study.turn;
    return turn.stop >= 0 && number(app.stage.player.frame) >= turn.stop;
}

} // namespace

void run_or_hold_study(App& app) {
    const auto frames = frames_of(app.stage);
    StudyPart& study = app.study;
    if (!study.turn || !study.turn->on_film || !frames) return;
    if (!is_answered(study.turn) && is_at_stop(app)) {
        study.running = false; // the run-up again
        return;
    }
    const auto loop = app.stage.player.loop;
    app.stage.player = toggled(app.stage.player, 1, *frames);
    app.stage.player.loop = loop;
    study.turn->hold_left_s = 0.0;
}

void answer_call(App& app, Read call) {
    auto& turn = app.study.turn;
    if (!turn || turn->phase == StudyPhase::run_up || turn->phase == StudyPhase::answer) return;
    turn->call = call;
    turn->sure.reset();
    turn->phase = app.settings.ask_how_sure ? StudyPhase::sure : StudyPhase::place;
}

void answer_sure(App& app, Sureness sure) {
    auto& turn = app.study.turn;
    if (!turn || turn->phase != StudyPhase::sure) return;
    turn->sure = sure;
    turn->phase = StudyPhase::place;
}

namespace {

/// As it was kept; none when it was not, which was told.
std::optional<Answer> kept_answer(const App& app, const Id& id) {
    const auto all = app.log.book->file().answers();
    const auto found = std::ranges::find(all, id, &Answer::id);
    return found == all.end() ? std::nullopt : std::optional{*found};
}

/// From the stop on at half speed, again and again.
void run_on(App& app) {
    StudyTurn& turn = *app.study.turn;
    const auto frames = frames_of(app.stage);
    if (!turn.on_film || !frames) return;
    Player& player = app.stage.player;
    const double stop_s = frames->seconds_of(frames->clamp(turn.stop));
    player = at_frame(player, turn.stop, *frames);
    player.tempo = 1;
    player = running(player, 1, *frames);
    player.loop = Loop{frames->shown_at(stop_s - loop_before_s), frames->clamp(turn.last)};
}

} // namespace

void answer_place(App& app, IcePoint place) {
    StudyPart& study = app.study;
    if (!study.turn || study.turn->phase != StudyPhase::place) return;
    StudyTurn& turn = *study.turn;
    const LogState& log = app.log.state();
    const ShotEntry* entry = chosen_shot(log);
    const Moment* moment = moment_in_hand(log);
    if (!entry || !moment || moment->id != turn.moment_id) return leave_study(app);
    Answer answer;
    answer.id = new_id();
    answer.moment_id = turn.moment_id;
    answer.goalie_id = turn.goalie_id;
    answer.answered_by = app.settings.answers_as;
    answer.answered_at = now_utc();
    answer.read = turn.call;
    answer.sure = turn.sure;
    answer.ice = place;
    answer.took_s = turn.waited_s;
    apply(app, KeepAnswer{answer});
    app.season.stale = true;
    turn.answer = kept_answer(app, answer.id);
    if (!turn.answer) return;
    turn.place = place;
    turn.worth =
        worth_of_place(entry->shot, entry->moments, *moment, place, rule_book(rules_for(log, *moment)),
                       parameters_of(log.season.parameters, log.goalies, entry->shot.goalie_id));
    turn.phase = StudyPhase::answer;
    study.given.push_back({{*turn.answer}});
    study.taken_back.clear();
    run_on(app);
}

void undo_study(App& app) {
    StudyPart& study = app.study;
    if (study.given.empty()) return tell(app, "No answer of this sitting to take back.", false);
    GivenAnswers last = std::move(study.given.back());
    study.given.pop_back();
    apply(app, TakeBackAnswers{last.answers});
    app.season.stale = true;
    const bool on_screen =
        study.turn && study.turn->answer && study.turn->answer->id == last.answers.front().id;
    if (on_screen) begin_decision(app, Id{study.turn->moment_id});
    tell(app, fmt::format("Taken back: {}. [redo] brings back what was taken.", last.words()), false);
    study.taken_back.push_back(std::move(last));
}

void redo_study(App& app) {
    StudyPart& study = app.study;
    if (study.taken_back.empty()) return tell(app, "No answer to give again.", false);
    GivenAnswers last = std::move(study.taken_back.back());
    study.taken_back.pop_back();
    if (last.answers.size() == 1) {
        apply(app, KeepAnswer{last.answers.front()});
    } else {
        apply(app, TakeAnswers{last.answers});
    }
    app.season.stale = true;
    tell(app, fmt::format("Brought back: {}.", last.words()), false);
    study.given.push_back(std::move(last));
}

namespace {

void find_stretch(StudyTurn& turn, const App& app, const FrameTable& frames) {
    const double moment_s = frames.seconds_of(frames.clamp(turn.frame));
    constexpr double rounding_s = 1e-6;
    turn.stop = number(frames.shown_at(moment_s - app.settings.stops_before_s + rounding_s));
    turn.first = number(frames.shown_at(moment_s - app.settings.stops_before_s - run_up_s));
    const FilmSpan play = loop_span(app.log.state(), frames, FrameIndex{turn.frame});
    turn.last = number(frames.shown_at(play.last_s));
}

/// Each time round the play stands at its moment for a while, with what was marked drawn on.
void hold_at_moment(StudyTurn& turn, Player& player, const FrameTable& frames) {
    if (number(player.frame) < turn.frame) {
        turn.held_moment = false;
    } else if (!turn.held_moment && player.playing && player.clock.speed > 0.0) {
        const auto loop = player.loop;
        player = at_frame(player, turn.frame, frames);
        player.loop = loop;
        turn.held_moment = true;
        turn.hold_left_s = moment_hold_s;
    }
}

/// The film is not the one that was opened for it any more, or the shot is not: back to the list.
bool is_gone(const App& app) {
    const StudyTurn& turn = *app.study.turn;
    const LogState& log = app.log.state();
    if (log.selection.shot_id() != turn.shot_id) return true;
    return turn.on_film && !is_answered(app.study.turn) && open_film(log) != turn.film_id;
}

} // namespace

void pass_study_time(App& app, double elapsed_s) {
    auto& turn = app.study.turn;
    if (!turn || app.side != Side::study) return;
    if (turn->phase == StudyPhase::call || turn->phase == StudyPhase::sure ||
        turn->phase == StudyPhase::place)
        turn->waited_s += elapsed_s;
    if (turn->hold_left_s <= 0.0) return;
    turn->hold_left_s -= elapsed_s;
    const auto frames = frames_of(app.stage);
    Player& player = app.stage.player;
    if (turn->hold_left_s > 0.0 || !frames || player.playing || number(player.frame) != turn->frame) return;
    player = running(player, 1, *frames);
}

void run_study(App& app, const FrameTable& frames) {
    app.stage.sound_until_s.reset();
    if (!app.study.turn || app.side != Side::study || !app.study.turn->on_film) return;
    StudyTurn& turn = *app.study.turn;
    Player& player = app.stage.player;
    if (turn.stop < 0) find_stretch(turn, app, frames);
    if (turn.phase == StudyPhase::answer) return hold_at_moment(turn, player, frames);
    player.loop.reset();
    app.stage.sound_until_s = frames.seconds_of(frames.clamp(turn.stop));
    if (!app.study.running) {
        player = running(at_frame(player, turn.first, frames), 1, frames);
        app.study.running = true;
    } else if (number(player.frame) >= turn.stop) {
        player = at_frame(held(player), turn.stop, frames);
        if (turn.phase == StudyPhase::run_up) turn.phase = StudyPhase::call;
    }
}

bool watch_study(App& app) {
    StudyPart& study = app.study;
    if (app.side != Side::study) {
        study.day.clear();
        study.settled = false;
        return false;
    }
    if (study.day.empty()) {
        study.day = today();
        if (!is_answered(study.turn)) { // what Log showed meanwhile is not for the call
            clear_picture(app.stage);
            study.running = false;
        }
    }
    if (!study.turn) return false;
    if (is_gone(app)) {
        leave_study(app);
        return false;
    }
    const bool lost = !app.stage.film || app.stage.film->state() == FilmDesk::State::failed;
    if (study.turn->on_film && lost) {
        study.turn->on_film = false;
        if (study.turn->phase == StudyPhase::run_up) study.turn->phase = StudyPhase::call;
        tell(app, "The film cannot be shown, so this one is called on the plan alone.", true);
    }
    return study.turn->hold_left_s > 0.0;
}

} // namespace ropeline
