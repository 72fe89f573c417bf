// A season in which everything that says how a play went is turned round: what came, the read, the outcome, the verdict, the note.
#pragma once

#include "season/season_file.h"

#include <filesystem>

namespace ropeline::test {

inline void turn_answers_round(const std::filesystem::path& season) {
    SeasonFile file = SeasonFile::open(season);
    file.change("turned round", [&] {
        for (const Game& game : file.games()) {
            for (Shot shot : file.shots(game.id)) {
                shot.came = shot.came == NextAction::pass ? NextAction::shot : NextAction::pass;
                shot.read = shot.read == Read::pass ? Read::shot : Read::pass;
                shot.outcome = shot.outcome == Outcome::goal ? Outcome::save_held : Outcome::goal;
                shot.note = "It went in off the far post.";
                file.put(shot);
                for (Moment moment : file.moments(shot.id)) {
                    moment.overruled = Verdict::sat_back;
                    moment.overrule_reason = "He waited on the goal line.";
                    file.put(moment);
                }
            }
        }
    });
    file.forget_changes();
}

} // namespace ropeline::test
