#include "season/derive.h"

#include "season/fit_here.h"
#include "season/own_figures.h"
#include "season/play.h"

#include <fmt/core.h>

#include <algorithm>
#include <atomic>
#include <map>
#include <thread>
#include <vector>

namespace ropeline {
namespace {

/// What the moment's clicks are measured by.
struct RestsOn {
    RinkFit fit;
    RuleBookId rules{};
};
using FitOf = std::function<std::optional<RestsOn>(Moment&)>;

/// A shot whose figures are being worked out.
struct WorkedShot {
    Shot shot;
    std::vector<Moment> play;
    RuleBookId rules{}; ///< that its steps were measured by
    Parameters parameters;
};

/// The marks on the ice and what follows from them at each moment.
WorkedShot measured(const SeasonFile& file, const Shot& shot, RuleBookId of_game,
                    const Parameters& parameters, const FitOf& fit_of) {
    WorkedShot worked{shot, file.moments(shot.id), of_game, parameters};
    for (Moment& moment : worked.play) {
        const auto rests_on = fit_of(moment);
        if (!rests_on) {
            derive(moment, nullptr, rule_book(of_game), parameters);
            continue;
        }
        if (is_step(moment)) worked.rules = rests_on->rules;
        const RuleBook& fitted_by = rule_book(rests_on->rules);
        const RinkFit lies = fit_for(shot, moment, rests_on->fit, fitted_by);
        derive(moment, &lies, fitted_by, parameters);
    }
    return worked;
}

void judge_shot(WorkedShot& worked, const Season& season) {
    for (Moment& moment : worked.play)
        if (moment.judgement) moment.judgement->firmness.reset();
    judge(worked.shot, worked.play, rule_book(worked.rules), worked.parameters);
    find_firmness(worked.shot, worked.play, rule_book(worked.rules), worked.parameters, season.level);
}

/// Every shot judged, on as many threads as the machine has; `done` is told on this one how many are.
void judge_all(std::vector<WorkedShot>& shots, const Season& season,
               const std::function<void(std::size_t)>& done) {
    std::atomic<std::size_t> next{0}, finished{0};
    const auto work = [&] {
        for (std::size_t index = next++; index < shots.size(); index = next++) {
            judge_shot(shots[index], season);
            ++finished;
        }
    };
    const std::size_t helpers = std::max(std::thread::hardware_concurrency(), 2U) - 1;
    std::vector<std::jthread> threads;
    for (std::size_t i = 0; i < helpers; ++i)
        threads.emplace_back(work);
    std::size_t told = 0;
    for (std::size_t index = next++; index < shots.size(); index = next++) {
        judge_shot(shots[index], season);
        done(told = ++finished);
    }
    threads.clear(); // waits for those that are still at one
    if (told < shots.size()) done(shots.size());
}

std::optional<RestsOn> rests_on(const std::vector<StoredFit>& fits, const Id& id) {
    const auto found = std::ranges::find(fits, id, &StoredFit::id);
    if (found == fits.end()) return std::nullopt;
    return RestsOn{found->fit, found->rules};
}

/// The fits of a game's films, read when a film is first asked for.
class GameFits {
public:
    explicit GameFits(const SeasonFile& file) : file_(file) {}

    const std::vector<StoredFit>& of(const Id& film_id) {
        const auto known = films_.find(film_id);
        return known != films_.end() ? known->second
                                     : films_.emplace(film_id, file_.rink_fits(film_id)).first->second;
    }

    void forget(const Id& film_id) { films_.erase(film_id); }

private:
    const SeasonFile& file_;
    std::map<Id, std::vector<StoredFit>> films_;
};

std::vector<StoredCarry> carries_at(const SeasonFile& file, const std::vector<StoredFit>& fits,
                                    std::int64_t frame) {
    std::vector<StoredCarry> carries;
    for (const StoredFit& fit : fits) {
        if (!fit.carried_from.empty()) continue;
        if (auto carry = file.carry_at(fit, frame)) carries.push_back(std::move(*carry));
    }
    return carries;
}

/// The fit that stands now for the moment's frame. What was clicked and has none any more has no place on the ice either.
std::optional<RestsOn> named_anew(SeasonFile& file, GameFits& game_fits, Moment& moment) {
    const auto& fits = game_fits.of(moment.film_id);
    const bool clicked =
        std::ranges::any_of(moment.marks, [](const Mark& mark) { return mark.at.has_value(); });
    if (!clicked) return rests_on(fits, moment.rink_fit_id);
    const FitHere here = fit_here(fits, carries_at(file, fits, moment.frame), moment.frame);
    const auto named = std::ranges::find(fits, moment.rink_fit_id, &StoredFit::id);
    const bool carried_here =
        named != fits.end() && !named->carried_from.empty() && named->frame == moment.frame;
    if (here.source == FitHere::Source::elsewhere && carried_here) return RestsOn{named->fit, named->rules};
    name_fit(file, here, fits, moment);
    if (here.fit) {
        const RestsOn now{*here.fit, here.key->rules};
        if (here.source == FitHere::Source::carried)
            game_fits.forget(moment.film_id); // it may have a new row
        return now;
    }
    for (Mark& mark : moment.marks) {
        if (!mark.at) continue;
        mark.ice.reset();
        mark.sigma.reset();
    }
    return std::nullopt;
}

/// "parameters: lateral speed 2 -> 2.5 m/s"; empty when nothing differs.
std::string name_of_change(const Season& season, Level level, const Parameters& wanted) {
    std::vector<std::string> parts;
    if (level != season.level)
        parts.push_back(fmt::format("level {} → {}", key_of(season.level), key_of(level)));
    for (const ParameterFact& fact : parameter_facts()) {
        const double before = *parameter(season.parameters, fact.key);
        const double after = *parameter(wanted, fact.key);
        if (before == after) continue;
        if (!(after >= fact.least && after <= fact.most))
            throw SeasonError(SeasonFault::refused,
                              fmt::format("{}: {:g} {} is no such figure; it lies between {:g} and {:g}.",
                                          fact.label, after, fact.unit, fact.least, fact.most));
        parts.push_back(fmt::format("{} {:g} → {:g} {}", fact.label, before, after, fact.unit));
    }
    if (parts.empty()) return {};
    if (parts.size() == 1 || level != season.level) return "parameters: " + parts.front();
    return fmt::format("parameters: {} and {} more", parts.front(), parts.size() - 1);
}

} // namespace

int recompute(SeasonFile& file, const Progress& progress) {
    int count = 0;
    file.change("figures worked out again", [&] {
        const Season season = file.season();
        const auto goalies = file.goalies();
        GameFits fits{file};
        const FitOf as_stored = [&](Moment& moment) {
            return rests_on(fits.of(moment.film_id), moment.rink_fit_id);
        };
        std::vector<WorkedShot> todo;
        for (const Game& game : file.games())
            for (const Shot& shot : file.shots(game.id))
                todo.push_back(measured(file, shot, game.rules,
                                        parameters_of(season.parameters, goalies, shot.goalie_id),
                                        as_stored));
        judge_all(todo, season, [&](std::size_t done) {
            if (progress) progress(static_cast<double>(done) / static_cast<double>(todo.size() + 1));
        });
        for (WorkedShot& worked : todo) {
            for (Moment& moment : worked.play)
                file.put(moment);
            count += static_cast<int>(worked.play.size());
        }
        if (progress) progress(1.0);
    });
    return count;
}

bool figures_are_old(const SeasonFile& file) {
    return file.has_figures_before(depth_model_version);
}

void recompute(SeasonFile& file, const Id& game_id, const std::set<Id>& shot_ids) {
    file.follow_up([&] {
        const Season season = file.season();
        const auto goalies = file.goalies();
        const auto games = file.games();
        const auto game = std::ranges::find(games, game_id, &Game::id);
        if (game == games.end()) return;
        GameFits fits{file};
        const FitOf anew = [&](Moment& moment) { return named_anew(file, fits, moment); };
        for (const Shot& shot : file.shots(game_id)) {
            if (!shot_ids.contains(shot.id)) continue;
            WorkedShot worked = measured(file, shot, game->rules,
                                         parameters_of(season.parameters, goalies, shot.goalie_id), anew);
            judge_shot(worked, season);
            for (Moment& moment : worked.play)
                file.put(moment);
        }
    });
}

int set_parameters(SeasonFile& file, Level level, const Parameters& parameters, const Progress& progress) {
    Season season = file.season();
    const std::string name = name_of_change(season, level, parameters);
    if (name.empty()) return 0;
    season.level = level;
    season.parameters = parameters;
    int count = 0;
    file.change(name, [&] {
        file.put(season);
        count = recompute(file, progress);
    });
    return count;
}

} // namespace ropeline
