// Study in the window: the film runs up to the moment and stops, the goalie answers, the answer is kept.
#include "desk/app.h"
#include "season/dates.h"

#include <algorithm>
#include <string>

namespace ropeline {

namespace {

bool has_film(const App& app) {
    return app.film && app.film->state() != FilmDesk::State::failed;
}

} // namespace

std::vector<AnsweredMoment> answered_moments(const App& app) {
    std::vector<AnsweredMoment> all;
    const SeasonFile& file = app.book->file();
    for (const Answer& answer : file.answers()) {
        AnsweredMoment one{answer, {}, {}};
        const auto fact = std::ranges::find(app.facts, answer.moment_id, &studied_moment);
        if (fact != app.facts.end()) {
            one.came = fact->came;
            for (const Moment& moment : file.moments(fact->shot_id)) {
                const Mark* puck =
                    moment.id == answer.moment_id ? find_mark(moment, MarkKind::puck) : nullptr;
                if (puck) one.puck = puck->ice;
            }
        }
        all.push_back(std::move(one));
    }
    return all;
}

void begin_study(App& app, const ShotFact& fact) {
    const LogState& log = app.book->state();
    const auto game = std::ranges::find(log.games, fact.game_id, &Game::id);
    if (game == log.games.end()) return;
    choose_game(app, static_cast<std::size_t>(game - log.games.begin()));
    const auto shot = std::ranges::find_if(
        log.shots, [&](const ShotEntry& entry) { return entry.shot.id == fact.shot_id; });
    if (shot == log.shots.end()) return;
    const auto index = static_cast<std::size_t>(shot - log.shots.begin());
    const auto film = std::ranges::find(log.films, shot->shot.film_id, &Film::id);
    if (film != log.films.end()) choose_film(app, static_cast<std::size_t>(film - log.films.begin()));
    app.book->apply(PickShot{index}, frame_at(app));
    const ShotEntry& entry = log.shots[index];
    const auto studied = std::ranges::find(entry.moments, studied_moment(fact), &Moment::id);
    if (studied == entry.moments.end()) return;
    app.book->apply(PickMoment{static_cast<std::size_t>(studied - entry.moments.begin())}, frame_at(app));
    const Moment* moment = moment_in_hand(log);
    StudyTurn turn;
    turn.shot_id = fact.shot_id;
    turn.moment_id = moment->id;
    turn.goalie_id = fact.goalie_id;
    turn.frame = moment->frame;
    if (film == log.films.end()) turn.phase = StudyPhase::call;
    app.study = turn;
    app.study_running = false;
    app.tried.reset();
}

void begin_study_unanswered(App& app) {
    if (app.season_stale) refresh_season(app);
    const std::vector<ShotFact> queue = study_queue(app.facts, app.study_filter);
    const auto open = std::ranges::find_if(queue, [&](const ShotFact& fact) {
        return std::ranges::none_of(app.answers, [&](const AnsweredMoment& one) {
            return one.answer.moment_id == studied_moment(fact);
        });
    });
    if (!queue.empty()) begin_study(app, open == queue.end() ? queue.front() : *open);
}

void next_study(App& app) {
    const std::vector<ShotFact> queue = study_queue(app.facts, app.study_filter);
    const Id now = app.study ? app.study->shot_id : Id{};
    const auto at = std::ranges::find(queue, now, &ShotFact::shot_id);
    app.study.reset();
    if (at != queue.end() && at + 1 != queue.end()) begin_study(app, *(at + 1));
}

void run_up_again(App& app) {
    if (!app.study || !has_film(app)) return;
    if (app.study->phase == StudyPhase::call) app.study->phase = StudyPhase::run_up;
    app.study_running = false;
}

void answer_call(App& app, Read call) {
    if (!app.study || app.study->phase == StudyPhase::run_up || app.study->phase == StudyPhase::answer)
        return;
    app.study->call = call;
    app.study->phase = StudyPhase::place;
}

void answer_place(App& app, IcePoint place) {
    if (!app.study || app.study->phase != StudyPhase::place) return;
    StudyTurn& turn = *app.study;
    turn.place = place;
    turn.phase = StudyPhase::answer;
    Answer answer;
    answer.moment_id = turn.moment_id;
    answer.goalie_id = turn.goalie_id;
    answer.answered_at = now_utc();
    answer.read = turn.call;
    answer.ice = place;
    answer.took_s = turn.waited_s;
    try {
        app.book->file().put(answer);
        app.season_stale = true;
    } catch (const SeasonError& error) {
        app.book->tell(error.what(), true);
    }
}

void run_study(App& app, const FrameTable& frames) {
    if (!app.study || app.study->phase == StudyPhase::answer) return;
    StudyTurn& turn = *app.study;
    if (turn.phase != StudyPhase::run_up) return;
    if (!app.study_running) {
        app.player = moved(at_frame(app.player, turn.frame, frames), -run_up_s, frames);
        app.player = running(app.player, 1, frames);
        app.study_running = true;
    } else if (number(app.player.frame) >= turn.frame || !app.player.playing) {
        app.player = at_frame(held(app.player), turn.frame, frames);
        turn.phase = StudyPhase::call;
    }
}

} // namespace ropeline
