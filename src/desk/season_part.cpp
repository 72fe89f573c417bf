#include "desk/season_part.h"

#include "sheet/depth_scatter.h"
#include "sheet/season_words.h"

#include <algorithm>
#include <filesystem>
#include <iterator>

namespace ropeline {

namespace {

std::set<Id> films_that_are_there(const SeasonFile& file) {
    std::set<Id> there;
    for (const Game& game : file.games()) {
        for (const Film& film : file.films(game.id)) {
            std::error_code failed;
            if (std::filesystem::is_regular_file(film_path(file, film), failed)) there.insert(film.id);
        }
    }
    return there;
}

} // namespace

void refresh_season(SeasonPart& part, const SeasonFile& file, const Season& season) {
    part.stale = false; // also when it fails: it is told once, not every turn
    part.facts = file.shot_facts();
    part.answers = file.answers();
    part.films_there = films_that_are_there(file);
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
