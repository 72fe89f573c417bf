#include "desk/season_part.h"

#include "sheet/depth_scatter.h"
#include "sheet/season_words.h"

#include <algorithm>
#include <iterator>

namespace ropeline {

std::vector<AnsweredMoment> answered_moments(const SeasonFile& file, const std::vector<ShotFact>& facts) {
    std::vector<AnsweredMoment> all;
    for (const Answer& answer : file.answers()) {
        AnsweredMoment one{answer, {}, {}};
        const auto fact = std::ranges::find(facts, answer.moment_id, &studied_moment);
        if (fact != facts.end()) {
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

void refresh_season(SeasonPart& part, const SeasonFile& file, const Season& season) {
    part.stale = false; // also when it fails: it is told once, not every turn
    part.facts = file.shot_facts();
    part.answers = answered_moments(file, part.facts);
    part.tables = band_tables(part.facts);
    part.chart_of.reset();
    refresh_chart(part, season);
}

void refresh_chart(SeasonPart& part, const Season& season) {
    if (part.chart_of == part.goalie) return;
    part.chart_of = part.goalie;
    std::vector<ShotFact> shown;
    std::ranges::copy_if(part.facts, std::back_inserter(shown), [&](const ShotFact& fact) {
        return part.goalie.empty() || fact.goalie_id == part.goalie;
    });
    part.chart = depth_scatter(shown, season);
    part.sentence = first_sentence(coming_out(shown, NextAction::shot), coming_out(shown, NextAction::pass));
}

} // namespace ropeline
