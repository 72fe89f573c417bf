#include "reel/shown_play.h"

#include "season/clock_words.h"
#include "season/derive.h"
#include "season/own_figures.h"
#include "season/play.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <utility>

namespace ropeline {
namespace {

template <class Record>
const Record* with_id(const std::vector<Record>& records, const Id& id) {
    const auto found = std::ranges::find(records, id, &Record::id);
    return found == records.end() ? nullptr : &*found;
}

/// What the season says of many shots, read once.
struct KnownSeason {
    const SeasonFile& file;
    Season season;
    std::vector<Team> teams;
    std::vector<Goalie> goalies;
    std::vector<Game> games;
    LengthUnit unit;
    std::map<Id, std::shared_ptr<const KnownFilm>> on_film = {};

    std::string team(const Id& id) const {
        const Team* found = with_id(teams, id);
        return found ? found->name : "";
    }
};

std::shared_ptr<const KnownFilm> known_film(const SeasonFile& file, const Id& film_id) {
    KnownFilm known;
    known.fits = file.rink_fits(film_id);
    for (const StoredFit& fit : known.fits) {
        if (!fit.carried_from.empty()) continue;
        auto carries = file.carries_of(fit);
        known.carries.insert(known.carries.end(), std::make_move_iterator(carries.begin()),
                             std::make_move_iterator(carries.end()));
    }
    if (auto index = file.film_index(film_id)) known.index = std::move(index->frames);
    return std::make_shared<const KnownFilm>(std::move(known));
}

void put_decision(const KnownSeason& known, const ShownPlay& of, std::span<const Moment> play,
                  ShownMoment& shown) {
    const auto asked = asked_of(of.shot, play, shown.moment);
    if (!asked) return;
    const RuleBook& rules = rule_book(shown.rules);
    Decision decision = decide(asked->moment, rules, of.parameters);
    auto more = decision_lines(*asked, decision, rules);
    shown.lines.insert(shown.lines.end(), std::make_move_iterator(more.begin()),
                       std::make_move_iterator(more.end()));
    shown.eye = puck_eye(asked->moment.stance, asked->moment.puck, rules, of.parameters);
    const auto& judged = shown.moment.judgement;
    const auto firmness = judged ? judged->firmness : std::nullopt;
    shown.headline = headline_for(decision, known.unit);
    if (shown.moment.overruled) {
        const std::string& why = shown.moment.overrule_reason;
        shown.headline =
            fmt::format("Coach: {}{}{}", label_of(*shown.moment.overruled), why.empty() ? "" : ": ", why);
    }
    shown.advice = advice_for(asked->moment, decision, rules, known.unit);
    shown.figures =
        figure_parts_for(asked->moment, decision, firmness, known.season.level, rules, known.unit);
    shown.decision = std::move(decision);
}

ShownMoment shown_moment(const KnownSeason& known, const ShownPlay& play, std::span<const Moment> all,
                         const Moment& moment) {
    ShownMoment shown;
    shown.moment = moment;
    shown.rules = play.game.rules;
    const StoredFit* fit = play.known ? with_id(play.known->fits, moment.rink_fit_id) : nullptr;
    if (fit) {
        shown.rules = fit->rules;
        shown.fit = fit_for(play.shot, moment, fit->fit, rule_book(fit->rules));
    }
    shown.lines = moment_lines(moment, rule_book(shown.rules), play.parameters);
    put_decision(known, play, all, shown);
    return shown;
}

ShownPlay shown_play(KnownSeason& known, const Game& game, Shot shot) {
    ShownPlay play;
    play.game = game;
    play.home = known.team(game.home_team_id);
    play.away = known.team(game.away_team_id);
    if (const Goalie* goalie = with_id(known.goalies, shot.goalie_id)) play.goalie = goalie->name;
    play.shot = std::move(shot);
    play.parameters = parameters_of(known.season.parameters, known.goalies, play.shot.goalie_id);
    const auto films = known.file.films(game.id);
    if (const Film* film = with_id(films, play.shot.film_id)) {
        play.film = *film;
        play.film_path = film_path(known.file, *film);
        auto& here = known.on_film[film->id];
        if (!here) here = known_film(known.file, film->id);
        play.known = here;
    }
    const auto moments = known.file.moments(play.shot.id);
    for (const Moment& moment : moments) {
        if (is_step(moment) && (play.film.id.empty() || moment.film_id == play.film.id))
            play.moments.push_back(shown_moment(known, play, moments, moment));
    }
    std::ranges::stable_sort(play.moments, {}, [](const ShownMoment& one) { return one.moment.frame; });
    return play;
}

} // namespace

std::vector<ShownPlay> shown_plays(const SeasonFile& file, std::span<const Id> shots, LengthUnit unit) {
    KnownSeason known{file, file.season(), file.teams(), file.goalies(), file.games(), unit};
    std::vector<std::optional<ShownPlay>> found(shots.size());
    for (const Game& game : known.games) {
        for (Shot& shot : known.file.shots(game.id)) {
            const auto wanted = std::ranges::find(shots, shot.id);
            if (wanted == shots.end()) continue;
            const ShownPlay play = shown_play(known, game, std::move(shot));
            for (std::size_t index = 0; index < shots.size(); ++index) {
                if (shots[index] == play.shot.id) found[index] = play;
            }
        }
    }
    std::vector<ShownPlay> plays;
    for (std::size_t index = 0; index < shots.size(); ++index) {
        if (!found[index])
            throw SeasonError(
                SeasonFault::refused,
                fmt::format("this season has no shot {}; `ropeline summary SEASON --csv DIR` lists the ids",
                            shots[index]));
        plays.push_back(std::move(*found[index]));
    }
    return plays;
}

const ShownMoment* main_moment(const ShownPlay& play) {
    const ShownMoment* best = nullptr;
    for (const ShownMoment& shown : play.moments) {
        if (!best || shown.moment.kind == MomentKind::release || best->moment.kind != MomentKind::release)
            best = &shown;
    }
    return best;
}

std::string name_of(const ShownPlay& play) {
    std::string name;
    const auto add = [&](std::string_view part) {
        if (!part.empty()) name += fmt::format("{}{}", name.empty() ? "" : " · ", part);
    };
    if (play.shot.clock_s)
        add(game_time_words(play.shot.period, *play.shot.clock_s));
    else if (play.shot.period)
        add(fmt::format("P{}", *play.shot.period));
    add(label_of(play.shot.details, Detail::numbers));
    if (play.shot.situation) add(label_of(*play.shot.situation));
    return name.empty() ? "Shot" : name;
}

std::string game_of(const ShownPlay& play) {
    std::string game = play.home.empty() || play.away.empty() ? play.home + play.away
                                                              : fmt::format("{} at {}", play.away, play.home);
    if (!play.game.date.empty()) game += (game.empty() ? "" : ", ") + play.game.date;
    return game;
}

std::string name_of(MomentKind kind) {
    return fmt::format("at the {}", label_of(kind));
}

} // namespace ropeline
