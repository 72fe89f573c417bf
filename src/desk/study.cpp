// Study in the window: the film runs up to the moment and stops, the goalie answers, the answer is kept.
#include "desk/app.h"
#include "season/dates.h"

#include <algorithm>
#include <string>

namespace ropeline {

namespace {

bool same(const StudyFilter& one, const StudyFilter& other) {
    return one.goalie_id == other.goalie_id && one.game_id == other.game_id && one.what == other.what;
}

void apply(App& app, const LogAction& action) {
    app.log.book->apply(action, frame_at(app.stage));
}

template <class Entries, class Projection>
std::optional<std::size_t> index_of(const Entries& entries, const Id& id, Projection id_of) {
    const auto found = std::ranges::find(entries, id, id_of);
    if (found == entries.end()) return std::nullopt;
    return static_cast<std::size_t>(found - entries.begin());
}

/// Its game, its film when it is on one, its shot and the moment that is studied. False when one is not there.
bool open_decision(App& app, const ShotFact& fact, bool& on_film) {
    const LogState& log = app.log.state();
    const auto game = index_of(log.games, fact.game_id, &Game::id);
    if (!game) return false;
    apply(app, ChooseGame{*game});
    open_chosen_film(app);
    const auto shot_id = [](const ShotEntry& entry) { return entry.shot.id; };
    const auto shot = index_of(log.shots, fact.shot_id, shot_id);
    if (shot) {
        const auto film = index_of(log.films, log.shots[*shot].shot.film_id, &Film::id);
        on_film = film.has_value();
        if (film) apply(app, ChooseFilm{*film});
    }
    open_chosen_film(app);
    if (!shot) return false;
    apply(app, PickShot{*shot});
    const auto studied = index_of(log.shots[*shot].moments, studied_moment(fact), &Moment::id);
    if (studied) apply(app, PickMoment{*studied});
    return studied.has_value();
}

} // namespace

void refresh_queue(StudyPart& study, const std::vector<ShotFact>& facts, bool facts_changed) {
    if (!facts_changed && study.queued_by && same(*study.queued_by, study.filter)) return;
    study.queued_by = study.filter;
    study.queue = study_queue(facts, study.filter);
}

void begin_study(App& app, const Id& shot_id) {
    const auto found = std::ranges::find(app.season.facts, shot_id, &ShotFact::shot_id);
    if (found == app.season.facts.end()) return;
    const ShotFact fact = *found;
    bool on_film = false;
    if (!open_decision(app, fact, on_film)) return;
    const Moment* moment = moment_in_hand(app.log.state());
    if (!moment) return;
    StudyTurn turn;
    turn.shot_id = fact.shot_id;
    turn.moment_id = moment->id;
    turn.goalie_id = fact.goalie_id;
    turn.frame = moment->frame;
    if (!on_film) turn.phase = StudyPhase::call;
    app.study.turn = turn;
    app.study.running = false;
    app.log.tried.reset();
}

void begin_study_unanswered(App& app) {
    if (app.season.stale) refresh_season(app.season, app.log.book->file());
    refresh_queue(app.study, app.season.facts, true);
    const auto& queue = app.study.queue;
    const auto open = std::ranges::find_if(queue, [&](const ShotFact& fact) {
        return std::ranges::none_of(app.season.answers, [&](const AnsweredMoment& one) {
            return one.answer.moment_id == studied_moment(fact);
        });
    });
    if (!queue.empty()) begin_study(app, open == queue.end() ? queue.front().shot_id : open->shot_id);
}

void next_study(App& app) {
    const Id now = app.study.turn ? app.study.turn->shot_id : Id{};
    const auto at = std::ranges::find(app.study.queue, now, &ShotFact::shot_id);
    app.study.turn.reset();
    if (at == app.study.queue.end() || at + 1 == app.study.queue.end()) return;
    const Id next = (at + 1)->shot_id;
    begin_study(app, next);
}

void run_up_again(App& app) {
    StudyPart& study = app.study;
    const bool has_film = app.stage.film && app.stage.film->state() != FilmDesk::State::failed;
    if (!study.turn || !has_film) return;
    if (study.turn->phase == StudyPhase::call) study.turn->phase = StudyPhase::run_up;
    study.running = false;
}

void answer_call(App& app, Read call) {
    auto& turn = app.study.turn;
    if (!turn || turn->phase == StudyPhase::run_up || turn->phase == StudyPhase::answer) return;
    turn->call = call;
    turn->phase = StudyPhase::place;
}

void answer_place(App& app, IcePoint place) {
    if (!app.study.turn || app.study.turn->phase != StudyPhase::place) return;
    StudyTurn& turn = *app.study.turn;
    turn.place = place;
    turn.phase = StudyPhase::answer;
    Answer answer;
    answer.moment_id = turn.moment_id;
    answer.goalie_id = turn.goalie_id;
    answer.answered_at = now_utc();
    answer.read = turn.call;
    answer.ice = place;
    answer.took_s = turn.waited_s;
    apply(app, KeepAnswer{answer});
    app.season.stale = true;
}

void run_study(App& app, const FrameTable& frames) {
    if (!app.study.turn || app.study.turn->phase != StudyPhase::run_up) return;
    StudyTurn& turn = *app.study.turn;
    Player& player = app.stage.player;
    if (!app.study.running) {
        player = moved(at_frame(player, turn.frame, frames), -run_up_s, frames);
        player = running(player, 1, frames);
        app.study.running = true;
    } else if (number(player.frame) >= turn.frame || !player.playing) {
        player = at_frame(held(player), turn.frame, frames);
        turn.phase = StudyPhase::call;
    }
}

} // namespace ropeline
