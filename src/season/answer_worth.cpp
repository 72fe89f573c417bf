#include "season/answer_worth.h"

#include "depth/on_post.h"
#include "depth/play.h"
#include "season/own_figures.h"
#include "season/play.h"

#include <algorithm>
#include <map>

namespace ropeline {

std::optional<PlaceWorth> worth_of_place(const Shot& shot, std::span<const Moment> play, const Moment& moment,
                                         IcePoint place, const RuleBook& rules,
                                         const Parameters& parameters) {
    const auto asked = asked_of(shot, play, moment);
    if (!asked) return std::nullopt;
    const Decision decision = decide(asked->moment, rules, parameters);
    PlaceWorth found;
    found.worth = parameters.worth;
    found.on_post = decision.on_post;
    if (found.on_post || !decision.advice) {
        found.right = found.on_post && at_post(place, asked->moment.puck, rules);
        return found;
    }
    found.left = net_left(play_of(play_marks(asked->moment), rules, parameters), place);
    found.best = decision.advice->left_best;
    found.right = found.left - found.best <= parameters.worth;
    return found;
}

void put_worth(Answer& answer, const Shot& shot, std::span<const Moment> play, const RuleBook& rules,
               const Parameters& parameters) {
    const auto moment = std::ranges::find(play, answer.moment_id, &Moment::id);
    if (moment == play.end()) return;
    const auto came = next_action(shot, play, *moment);
    if (answer.read && (came == NextAction::shot || came == NextAction::pass))
        answer.call_right = (*answer.read == Read::shot) == (came == NextAction::shot);
    if (!answer.ice) return;
    const auto place = worth_of_place(shot, play, *moment, *answer.ice, rules, parameters);
    if (!place) return;
    answer.place_right = place->right;
    if (!place->on_post) answer.gave_away = std::clamp(place->left - place->best, -1.0, 1.0);
}

std::vector<bool> put_worth(const SeasonFile& file, std::span<Answer> answers) {
    std::vector<bool> known(answers.size(), false);
    const Season season = file.season();
    const auto goalies = file.goalies();
    for (const Game& game : file.games()) {
        std::map<Id, RuleBookId> rules_of_fit;
        for (const Film& film : file.films(game.id)) {
            for (const StoredFit& fit : file.rink_fits(film.id))
                rules_of_fit.emplace(fit.id, fit.rules);
        }
        for (const Shot& shot : file.shots(game.id)) {
            const auto play = file.moments(shot.id);
            for (std::size_t index = 0; index < answers.size(); ++index) {
                const auto moment = std::ranges::find(play, answers[index].moment_id, &Moment::id);
                if (moment == play.end()) continue;
                const auto fit = rules_of_fit.find(moment->rink_fit_id);
                answers[index].goalie_id = shot.goalie_id;
                known[index] = true;
                put_worth(answers[index], shot, play,
                          rule_book(fit == rules_of_fit.end() ? game.rules : fit->second),
                          parameters_of(season.parameters, goalies, shot.goalie_id));
            }
        }
    }
    return known;
}

} // namespace ropeline
